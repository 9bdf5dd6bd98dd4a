// The ledger of a bout file, for those who need nothing of its text: the quick way where nothing is wrong in it.

import { success, type Result } from "../bout/result";
import type { Ledger } from "../rules";
import { quickLedger } from "./quick-ledger";
import { readText } from "./text";

/** The failure says why there is none, in words that follow the file's name. */
export async function ledgerAt(file: string): Promise<Result<Ledger, string>> {
  const text = await readText(file);
  if (!text.ok) return text;
  const quick = quickLedger(text.value, text.value.split(":").length - 1);
  if (quick !== undefined) return success(quick);
  const { studyOfText } = await import("./bouts");
  const study = await studyOfText(file, text.value);
  return study.ok ? success(study.value.ledger) : study;
}
