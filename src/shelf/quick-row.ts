// The row of a text with nothing wrong in it, by an edition of Boutline's own: what most files are. It asks for little, so
// that a thread that reads files is soon there; `thorough-row.ts` answers for all the others, and the same for these.

import { runChecks } from "../rules/findings/run";
import { aboutTheWhole } from "../rules/whole";
import type { BoutFile } from "./find";
import { quickLedger } from "./quick-ledger";
import { rowOfBout, type BoutRow, type FileText, type Surroundings } from "./row";

/** Undefined for a text that must be looked at thoroughly. */
export function quickRow(
  about: BoutFile,
  { text, sum, colons }: FileText,
  around: Surroundings,
): BoutRow | undefined {
  const counted = quickLedger(text, colons);
  if (counted === undefined) return undefined;
  const { bout, edition } = counted;
  if (counted.rows.some(({ kind }) => kind === "fit" || kind === "platforms")) return undefined;
  const findings = [
    ...aboutTheWhole(bout, bout.log.length, edition, (_, finding) => finding),
    ...runChecks(counted),
  ];
  return rowOfBout(about, sum, { bout, ledger: counted, findings }, around);
}
