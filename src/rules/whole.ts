// Findings about no single entry of the log.

import type { Bout } from "../bout/read";
import type { Edition } from "./edition";
import { editionOn, editions } from "./editions";
import { ownFormat, type Finding } from "./findings/check";
import { pageOf } from "./findings/rule-book";

/** `entries`: how many there are in the log, those that can't be read included. `at` puts a finding where the field of
 * the bout's own head stands. */
export function aboutTheWhole(
  { about: { date } }: Bout,
  entries: number,
  edition: Edition,
  at: (field: "date", finding: Finding) => Finding,
): readonly Finding[] {
  const findings: Finding[] = [];
  if (entries === 0)
    findings.push({
      rule: "nothing-recorded",
      severity: "note",
      message: "nothing is recorded in the log yet",
      source: ownFormat,
      page: pageOf("nothing-recorded"),
    });
  if (date === undefined || !editions.has(edition.id)) return findings;
  const then = editionOn(date, edition.seated.value);
  if (then === undefined || then === edition) return findings;
  findings.push(
    at("date", {
      rule: "edition-of-another-time",
      severity: "note",
      message: `on ${date} ${then.title} ("${then.id}") was most likely in force, and the bout is counted by ${edition.title} ("${edition.id}") (check the current book: ${then.from.unverified ?? then.from.source})`,
      source: then.from.source,
      page: pageOf("edition-of-another-time"),
    }),
  );
  return findings;
}
