// From a text that was read to all that the rules say of it: the edition, the ledger, and every finding.

import { findNodeAtLocation, parseTree } from "jsonc-parser";
import { suggestion } from "../bout/explain";
import type { Bout, Reading } from "../bout/read";
import { placer } from "../bout/scan";
import type { Edition } from "./edition";
import { editionFileOf, readEdition, type EditionFile } from "./edition-file";
import { editionNamed, editions, fallbackEdition } from "./editions";
import { findingsOf, inOrder, type Finding } from "./findings";
import { ownFormat } from "./findings/check";
import { pageOf } from "./findings/rule-book";
import { ledger, type Ledger } from "./ledger";
import { aboutTheWhole } from "./whole";

export interface Study {
  readonly bout: Bout;
  readonly edition: Edition;
  readonly ledger: Ledger;
  /** Problems of the text and findings about the log, in order. */
  readonly findings: readonly Finding[];
}

/** Undefined where the text holds no bout; `textFindings` then says why. `own` is the file of the bout's edition where
 * that is none of Boutline's (see `editionFileOf`). */
export function studyOf(reading: Reading, own?: EditionFile): Study | undefined {
  const { bout } = reading;
  if (bout === undefined) return undefined;
  const { edition, findings } = editionFor(reading, bout, own);
  const counted = ledger(bout, edition);
  return {
    bout,
    edition,
    ledger: counted,
    findings: merged(reading, [
      ...findings,
      ...aboutTheWhole(bout, reading.scan.entries.length, edition, (field, finding) =>
        atHeader(reading, field, finding),
      ),
      ...findingsOf(counted),
    ]),
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
    const finding: Finding = {
      rule,
      severity,
      line,
      column,
      message,
      source: ownFormat,
      page: pageOf(rule),
    };
    entries.set(finding, entry);
    return finding;
  });
  return inOrder([...ofText, ...others], (finding) => finding.entry ?? entries.get(finding));
}

// ---- The edition

interface Chosen {
  readonly edition: Edition;
  readonly findings: readonly Finding[];
}

function editionFor(reading: Reading, bout: Bout, own: EditionFile | undefined): Chosen {
  const name = bout.about.rules;
  const named = editionNamed(name);
  if (named !== undefined) return { edition: named, findings: [] };
  if (own !== undefined && own.file === editionFileOf(bout)) {
    const read = readEdition(own.text, { file: own.file });
    if (read.ok) return { edition: read.value, findings: [] };
    const findings = read.problem.map(({ severity, message, place: { line, column } }) =>
      atHeader(reading, "rules", {
        rule: "edition-file",
        severity,
        message: `${own.file}:${line}:${column}: ${message}. The bout is counted by ${fallbackEdition.id}.`,
        source: ownFormat,
      }),
    );
    return { edition: fallbackEdition, findings };
  }
  const file = editionFileOf(bout);
  const beside = file === undefined ? "" : `, and there is no ${file} beside the bout file`;
  return {
    edition: nearest(name),
    findings: [
      atHeader(reading, "rules", {
        rule: "unknown-edition",
        severity: "error",
        message: `no rule edition is named "${name}"${beside}; ${suggestion(name, [...editions.keys()])}. The bout is counted by ${nearest(name).id}.`,
        source: ownFormat,
      }),
    ],
  };
}

/** The edition whose name is nearest, as "fie-2025" means one of the FIE's; else the one for seated fencing. */
function nearest(name: string): Edition {
  const family = /^[a-z]+/i.exec(name)?.[0].toLowerCase();
  let found = fallbackEdition;
  for (const edition of editions.values()) {
    if (family === undefined || !edition.id.startsWith(`${family}-`)) continue;
    if (!found.id.startsWith(`${family}-`) || edition.from.value > found.from.value) found = edition;
  }
  return found;
}

/** A finding at a field of the bout's own head. */
function atHeader(
  { scan: { text } }: Reading,
  field: string,
  finding: Omit<Finding, "line" | "column" | "page">,
): Finding {
  const tree = parseTree(text.startsWith("\uFEFF") ? ` ${text.slice(1)}` : text, [], {
    allowTrailingComma: true,
  });
  const node = tree === undefined ? undefined : findNodeAtLocation(tree, ["bout", field]);
  const { line, column } = placer(text)(node?.offset ?? 0, node?.length ?? 0);
  return { ...finding, line, column, page: pageOf(finding.rule) };
}
