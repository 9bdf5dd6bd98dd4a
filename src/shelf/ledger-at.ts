// The ledger of a bout file, for those who need nothing of its text: most files are read the quick way, which asks for little;
// see `quick-row.ts`.

import { quickBout } from "../bout/quick-bout";
import { success, type Result } from "../bout/result";
import { editionNamed } from "../rules/editions";
import { ledger, type Ledger } from "../rules/ledger";
import { readText } from "./text";

/** The failure says why there is none, in words that follow the file's name. */
export async function ledgerAt(file: string): Promise<Result<Ledger, string>> {
  const text = await readText(file);
  if (!text.ok) return text;
  const quick = quickLedger(text.value);
  if (quick !== undefined) return success(quick);
  const { studyAt } = await import("./bouts");
  const study = await studyAt(file);
  return study.ok ? success(study.value.ledger) : study;
}

/** Undefined for a text that must be looked at thoroughly. */
export function quickLedger(text: string): Ledger | undefined {
  const bout = quickBout(text, colonsIn(text));
  const edition = bout === undefined ? undefined : editionNamed(bout.about.rules);
  return bout === undefined || edition === undefined ? undefined : ledger(bout, edition);
}

function colonsIn(text: string): number {
  let colons = 0;
  for (let at = text.indexOf(":"); at >= 0; at = text.indexOf(":", at + 1)) colons++;
  return colons;
}
