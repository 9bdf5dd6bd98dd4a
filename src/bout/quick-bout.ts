// The quick way to a bout whose text has nothing wrong in it: the engine's own JSON parser and the checks of
// `quick-entry.ts`. It answers only where `readBout` finds the same bout and no problem at all.

import { colonsSeen, quickEntry, quickHead } from "./quick-entry";
import { quickScan } from "./quick-scan";
import type { Bout, EntryRecord } from "./read";
import { currentVersion, deepest, timeField } from "./written";

/** Where an entry stands in the text is not looked for: it has this place. */
export const noPlace = { offset: -1, length: 0 };

/** Undefined where anything at all is unusual. `colons`: how many there are in the text. */
export function quickBout(text: string, colons: number): Bout | undefined {
  const parsed = parse(text);
  if (parsed === undefined) return undefined;
  const { log, ...rest } = parsed.root as { log?: unknown };
  if (!Array.isArray(log)) return undefined;
  colonsSeen();
  const head = quickHead(rest);
  if (head === undefined || head.boutline > currentVersion) return undefined;
  const records: EntryRecord[] = [];
  for (let index = 0; index < log.length; index++) {
    const raw: unknown = log[index];
    const entry = quickEntry(raw);
    if (entry === undefined) return undefined;
    const at = (raw as Record<string, string>)[timeField(entry.kind)] ?? "";
    records.push({ index, entry, at, offset: noPlace.offset, length: noPlace.length });
  }
  // The colon before the log counts too.
  if (!parsed.checked && colonsSeen() + 1 !== colons) return undefined;
  const { boutline, bout, fencers, recordings = [], tagged } = head;
  return { version: boutline, about: bout, fencers, recordings, tagged, log: records };
}

/** `checked`: no key is written twice, as far as the text was walked through to see it. */
function parse(text: string): { readonly root: object; readonly checked: boolean } | undefined {
  // An escaped colon, or an escaped key, would be counted wrongly.
  if (!text.includes("\\"))
    try {
      const root: unknown = JSON.parse(text);
      return typeof root === "object" && root !== null ? { root, checked: false } : undefined;
    } catch {
      // Perhaps it has comments.
    }
  const scanned = quickScan(text, deepest);
  return scanned === undefined ? undefined : { root: scanned.root, checked: true };
}
