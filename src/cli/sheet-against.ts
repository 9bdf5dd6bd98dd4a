// What a second file adds to a sheet: how far two taggers of one bout agree, or what differs between two bouts.

import {
  agreementTables,
  comparisonsTable,
  type Against,
  type Agreement,
  type RelationFound,
  type Table,
} from "../figures";
import { table } from "./lines";
import { comparisonLines, limited } from "./sheet-figures";
import { Unusable } from "./verb";

/** What `--as` says; throws `Unusable` for a word it doesn't take. */
export function relationNamed(words: string | undefined): RelationFound | undefined {
  switch (words) {
    case undefined:
      return undefined;
    case "taggers":
      return { relation: "same bout", why: "as asked" };
    case "bouts":
      return { relation: "two bouts", why: "as asked" };
    default:
      throw new Unusable(`--as takes taggers or bouts, not "${words}"`);
  }
}

export function againstTables(against: Against): readonly Table[] {
  return against.relation === "same bout"
    ? agreementTables(against.agreement)
    : [comparisonsTable("two-bouts", against.compared.comparisons)];
}

export function againstLines(against: Against): readonly string[] {
  if (against.relation === "same bout")
    return [`the same bout tagged twice (${against.why})`, ...agreementLines(against.agreement)];
  const { fencers, comparisons } = against.compared;
  const both = fencers.map(({ name, first, second }) => `${name} (${first}, then ${second})`);
  return [
    `two bouts (${against.why})`,
    `fencers in both: ${both.length === 0 ? "none" : both.join(", ")}`,
    ...comparisonLines(comparisons),
  ];
}

function agreementLines({
  matched,
  unmatched,
  start,
  halt,
  judgements,
  differences,
}: Agreement): readonly string[] {
  const median = (figure: typeof start) =>
    figure.median === null ? "none yet" : `${limited({ ...figure, value: figure.median }, 3)} s`;
  return [
    `phrases matched: ${matched.length}; only in the first file: ${entries(unmatched.first)}; only in the second: ${entries(unmatched.second)}`,
    `second less first, median: start ${median(start)}, halt ${median(halt)}`,
    ...table(
      judgements.map(({ what, kappa }) => [
        `  ${what}`,
        `${kappa.agreed} of ${kappa.of} alike`,
        `kappa ${kappa.value === null ? "can't be said" : limited(kappa, 2)}`,
      ]),
    ),
    ...(differences.length === 0 ? ["no differences"] : ["differences, by entry of each file"]),
    ...table(
      differences.map(({ what, first, second }) => [
        `  ${what}`,
        `${first.entry}: ${first.says}`,
        `${second.entry}: ${second.says}`,
      ]),
    ),
  ];
}

function entries(list: readonly number[]): string {
  return list.length === 0 ? "none" : `${list.length} (entries ${list.join(", ")})`;
}
