// From a text that was read to all that the rules say of it: the edition, the ledger, and every finding.

import { findNodeAtLocation, parseTree } from "jsonc-parser";
import { suggestion } from "../bout/explain";
import type { Bout, Reading } from "../bout/read";
import { placer } from "../bout/scan";
import type { Edition } from "./edition";
import { editionNamed, editions, fallbackEdition } from "./editions";
import { findingsOf, inOrder, type Finding } from "./findings";
import { ownFormat } from "./findings/check";
import { pageOf } from "./findings/rule-book";
import { ledger, type Ledger } from "./ledger";

export interface Study {
  readonly bout: Bout;
  readonly edition: Edition;
  readonly ledger: Ledger;
  /** Problems of the text and findings about the log, in order. */
  readonly findings: readonly Finding[];
}

/** Undefined where the text holds no bout; `textFindings` then says why. */
export function studyOf(reading: Reading, known: ReadonlyMap<string, Edition> = editions): Study | undefined {
  const { bout } = reading;
  if (bout === undefined) return undefined;
  const named = editionNamed(bout.about.rules, known);
  const edition = named ?? fallbackEdition;
  const counted = ledger(bout, edition);
  const unknown = named === undefined ? [unknownEdition(reading, bout.about.rules, known)] : [];
  return {
    bout,
    edition,
    ledger: counted,
    findings: merged(reading, [...unknown, ...findingsOf(counted)]),
  };
}

/** The problems of the text alone, as findings. */
export function textFindings(reading: Reading): readonly Finding[] {
  return merged(reading, []);
}

/** A problem of the text stands where its entry stands, though it is named by line and column. */
function merged({ problems }: Reading, others: readonly Finding[]): readonly Finding[] {
  if (problems.length === 0) return others;
  const entries = new Map<Finding, number | undefined>();
  const ofText = problems.map(({ rule, severity, message, place: { line, column }, entry }) => {
    const finding: Finding = { rule, severity, line, column, message, source: ownFormat, page: pageOf(rule) };
    entries.set(finding, entry);
    return finding;
  });
  return inOrder([...ofText, ...others], (finding) => finding.entry ?? entries.get(finding));
}

function unknownEdition(
  { scan: { text } }: Reading,
  name: string,
  known: ReadonlyMap<string, Edition>,
): Finding {
  const tree = parseTree(text.startsWith("\uFEFF") ? ` ${text.slice(1)}` : text, [], {
    allowTrailingComma: true,
  });
  const node = tree === undefined ? undefined : findNodeAtLocation(tree, ["bout", "rules"]);
  const { line, column } = placer(text)(node?.offset ?? 0, node?.length ?? 0);
  return {
    rule: "unknown-edition",
    severity: "error",
    line,
    column,
    message: `no rule edition is named "${name}"; ${suggestion(name, [...known.keys()])}. The bout is counted by ${fallbackEdition.id}.`,
    source: ownFormat,
    page: pageOf("unknown-edition"),
  };
}
