// Changing a bout file by the smallest edit to its text: one entry inserted, changed or deleted, every other character
// left as it was. The result is read again and compared with what was meant before anybody gets to see it.

import { fieldEdits, type FieldChange } from "./field-text";
import { entryText, isRecord, plain, same, withField, type Json } from "./json-value";
import { deleteText, insertText, layoutOf, type Layout } from "./log-text";
import { failure, success, type Result } from "./result";
import { rescan } from "./rescan";
import type { Scan, Stretch } from "./scan";
import type { WrittenEntry } from "./schema";
import { applyEdits, merged, narrowed, type TextEdit } from "./text-edit";
import { parseTime } from "./time";
import { timeField } from "./written";

export { entryText, type Json } from "./json-value";
export { applyEdits, type TextEdit } from "./text-edit";
export type { FieldChange } from "./field-text";

export type Change =
  | { readonly do: "insert"; readonly entry: WrittenEntry & { readonly [key: string]: Json } }
  | { readonly do: "change"; readonly index: number; readonly fields: readonly FieldChange[] }
  | { readonly do: "delete"; readonly index: number };

export interface Edited {
  /** In rising order, not overlapping. */
  readonly edits: readonly TextEdit[];
  readonly text: string;
  /** `text`, scanned. */
  readonly scan: Scan;
  /** Where the entry stands in the log afterwards; for a deletion, where it stood. */
  readonly index: number;
}

export type NotEdited =
  /** The text can't be edited safely: not JSON, or no log. */
  | { readonly why: "not-editable"; readonly message: string }
  /** No such entry. */
  | { readonly why: "no-such-entry"; readonly message: string }
  /** The edited text did not read back as meant, so it is not applied. */
  | { readonly why: "not-as-meant"; readonly message: string };

/** Works out the edit for a change. Nothing is applied. */
export function editBout(scan: Scan, change: Change): Result<Edited, NotEdited> {
  if (scan.broken || scan.log === undefined)
    return failure({
      why: "not-editable",
      message: "The file has mistakes that must be put right in its text first; nothing was changed.",
    });
  if (change.do !== "insert" && scan.stretches[change.index] === undefined)
    return failure({
      why: "no-such-entry",
      message: "That entry is no longer in the file; nothing was changed.",
    });
  const layout = layoutOf(scan, scan.log);
  const { edits, index, meant } =
    change.do === "insert"
      ? insertion(layout, change.entry)
      : change.do === "delete"
        ? deletion(layout, change.index)
        : alteration(layout, change.index, change.fields);
  const text = applyEdits(scan.text, edits);
  const after = rescan(scan, edits, text);
  if (after.broken || !isMeant(scan, after, meant))
    return failure({
      why: "not-as-meant",
      message: "This change could not be made safely at that place of the text; nothing was changed.",
    });
  return success({ edits, text, scan: after, index });
}

/** Whether the edited text says what was meant. An entry whose text is the one it had before means what it meant then. */
function isMeant(before: Scan, after: Scan, meant: readonly unknown[]): boolean {
  if (!isRecord(before.root) || !isRecord(after.root)) return false;
  const { log: _, ...rest } = before.root;
  const { log, ...restAfter } = after.root;
  if (!same(rest, restAfter) || !Array.isArray(log) || log.length !== meant.length) return false;
  const stretches = new Map(before.entries.map((entry, index) => [entry, before.stretches[index]]));
  return meant.every((entry, index) => {
    const [was, is] = [stretches.get(entry), after.stretches[index]];
    const untouched = was !== undefined && is !== undefined && textAt(before, was) === textAt(after, is);
    return untouched || same(entry, log[index]);
  });
}

function textAt({ text }: Scan, { offset, length }: Stretch): string {
  return text.slice(offset, offset + length);
}

interface Plan {
  readonly edits: readonly TextEdit[];
  readonly index: number;
  /** The raw entries that must stand in the log afterwards. */
  readonly meant: readonly unknown[];
}

function insertion(layout: Layout, entry: { readonly [key: string]: Json } & WrittenEntry): Plan {
  const { scan } = layout;
  const index = placeInTime(scan.entries, writtenTime(entry));
  return {
    edits: insertText(layout, index, entryText(entry)),
    index,
    meant: [...scan.entries.slice(0, index), plain(entry), ...scan.entries.slice(index)],
  };
}

function deletion({ scan, log }: Layout, index: number): Plan {
  return {
    edits: deleteText(scan, log, index),
    index,
    meant: scan.entries.filter((_, other) => other !== index),
  };
}

function alteration(layout: Layout, index: number, fields: readonly FieldChange[]): Plan {
  const { scan } = layout;
  const stretch = scan.stretches[index] ?? { offset: 0, length: 0 };
  let source = scan.text.slice(stretch.offset, stretch.offset + stretch.length);
  let edits: TextEdit[] = [];
  let value = plain(scan.entries[index]);
  for (const field of fields) {
    const found = fieldEdits(source, field, kindOf(value));
    // Later fields are worked out on the text the earlier ones leave, so the edits collapse into one stretch.
    edits =
      fields.length === 1 ? found.map((edit) => ({ ...edit, offset: edit.offset + stretch.offset })) : edits;
    source = applyEdits(source, found);
    value = withField(value, field.path, field.value);
  }
  if (fields.length !== 1) edits = [narrowed(scan.text, stretch, source)];

  const others = scan.entries.filter((_, other) => other !== index);
  const place = placeAfterChange(scan.entries, index, writtenTime(value));
  const meant = [...others.slice(0, place), value, ...others.slice(place)];
  if (place === index) return { edits, index, meant };
  const target = place < index ? place : place + 1;
  const moved = [...deleteText(scan, layout.log, index), ...insertText(layout, target, source, index)];
  return { edits: merged(moved), index: place, meant };
}

// ---- Where an entry goes

/** The index after the last entry whose time is not later. Entries without a readable time are stepped over. */
function placeInTime(entries: readonly unknown[], time: number | undefined): number {
  if (time === undefined) return entries.length;
  for (let index = entries.length - 1; index >= 0; index--) {
    const other = writtenTime(entries[index]);
    if (other !== undefined && other <= time) return index + 1;
  }
  return 0;
}

/** Where a changed entry belongs, counted without it: where it was, unless its new time passes a neighbour's. */
function placeAfterChange(entries: readonly unknown[], index: number, time: number | undefined): number {
  if (time === undefined) return index;
  const before = entries.slice(0, index).findLast((entry) => writtenTime(entry) !== undefined);
  const after = entries.slice(index + 1).find((entry) => writtenTime(entry) !== undefined);
  if ((writtenTime(before) ?? -Infinity) <= time && time <= (writtenTime(after) ?? Infinity)) return index;
  return placeInTime(
    entries.filter((_, other) => other !== index),
    time,
  );
}

function writtenTime(entry: unknown): number | undefined {
  if (!isRecord(entry)) return undefined;
  const written = entry[timeField(kindOf(entry))];
  return typeof written === "string" ? parseTime(written) : undefined;
}

function kindOf(entry: unknown): string {
  return isRecord(entry) && typeof entry["kind"] === "string" ? entry["kind"] : "";
}
