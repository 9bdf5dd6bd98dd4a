// Changing a bout file by the smallest edit to its text: one entry inserted, changed or deleted, every other character
// left as it was. The result is read again and compared with what was meant before anybody gets to see it.

import { parseTree, type Node } from "jsonc-parser";
import { failure, success, type Result } from "./result";
import { scanBout, type Scan, type Stretch } from "./scan";
import { fieldOrder, timeField, type WrittenEntry } from "./schema";
import { parseTime } from "./time";

export type Json = string | number | boolean | null | readonly Json[] | { readonly [key: string]: Json };

/** Sets the value at a path inside an entry; undefined takes it away. A list is replaced whole, or gets one more item
 * where the path ends in its length. */
export interface FieldChange {
  readonly path: readonly (string | number)[];
  readonly value: Json | undefined;
}

export type Change =
  | { readonly do: "insert"; readonly entry: WrittenEntry & { readonly [key: string]: Json } }
  | { readonly do: "change"; readonly index: number; readonly fields: readonly FieldChange[] }
  | { readonly do: "delete"; readonly index: number };

/** Replaces `length` characters at `offset` of the text before any edit of the same list. */
export interface TextEdit {
  readonly offset: number;
  readonly length: number;
  readonly text: string;
}

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
  const after = scanBout(text);
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

/** Applies edits given in rising order. */
export function applyEdits(text: string, edits: readonly TextEdit[]): string {
  let result = "";
  let done = 0;
  for (const edit of edits) {
    result += text.slice(done, edit.offset) + edit.text;
    done = edit.offset + edit.length;
  }
  return result + text.slice(done);
}

/** An entry as one line of text: `{ "kind": "note", "at": "0:00:01.000" }`. */
export function entryText(value: Json): string {
  if (Array.isArray(value)) return `[${(value as readonly Json[]).map(entryText).join(", ")}]`;
  if (typeof value === "object" && value !== null) {
    const fields = Object.entries(value as { readonly [key: string]: Json | undefined }).flatMap(
      ([key, field]) => (field === undefined ? [] : [`${JSON.stringify(key)}: ${entryText(field)}`]),
    );
    return fields.length === 0 ? "{}" : `{ ${fields.join(", ")} }`;
  }
  return JSON.stringify(value);
}

interface Plan {
  readonly edits: readonly TextEdit[];
  readonly index: number;
  /** The raw entries that must stand in the log afterwards. */
  readonly meant: readonly unknown[];
}

interface Layout {
  readonly scan: Scan;
  readonly log: Stretch;
  readonly lineEnd: string;
  /** White space before an entry on its own line. */
  readonly indent: string;
}

function layoutOf(scan: Scan, log: Stretch): Layout {
  const { text } = scan;
  const firstBreak = text.indexOf("\n");
  const lineEnd = firstBreak > 0 && text[firstBreak - 1] === "\r" ? "\r\n" : "\n";
  const own = scan.stretches.find((stretch) => ownLineIndent(text, stretch.offset) !== undefined);
  const indent =
    (own === undefined ? undefined : ownLineIndent(text, own.offset)) ?? `${lineIndent(text, log.offset)}  `;
  return { scan, log, lineEnd, indent };
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

// ---- Text of the log

/** Edits that put `entry` before the entry now at `index` (or at the end). `leaving` is an entry that goes away in the
 * same change. */
function insertText(layout: Layout, index: number, entry: string, leaving?: number): TextEdit[] {
  const { scan, log, lineEnd, indent } = layout;
  const { text, stretches } = scan;
  const others = stretches.map((stretch, at) => ({ stretch, at })).filter(({ at }) => at !== leaving);
  const previous = others.findLast(({ at }) => at < index)?.stretch;
  const next = others.find(({ at }) => at >= index)?.stretch;
  const close = log.offset + log.length - 1;

  if (previous === undefined && next === undefined) {
    const inside = text.slice(log.offset + 1, close);
    if (inside.trim() === "")
      return [
        {
          offset: log.offset + 1,
          length: leaving === undefined ? inside.length : 0,
          text: `${lineEnd}${indent}${entry}${lineEnd}${lineIndent(text, log.offset)}`,
        },
      ];
    // Only comments stand in the log: the entry goes under them.
    return [
      {
        offset: close,
        length: 0,
        text: `${lineBefore(text, close) ? "" : lineEnd}${indent}${entry}${lineEnd}`,
      },
    ];
  }
  if (previous === undefined && next !== undefined) {
    if (ownLineIndent(text, next.offset) === undefined)
      return [{ offset: next.offset, length: 0, text: `${entry}, ` }];
    const end = endOfLineIfQuiet(text, log.offset + 1, next.offset);
    return end === undefined
      ? [{ offset: next.offset, length: 0, text: `${entry},${lineEnd}${indent}` }]
      : [{ offset: end, length: 0, text: `${lineEnd}${indent}${entry},` }];
  }
  const from = previous === undefined ? 0 : previous.offset + previous.length;
  const comma = commaAfter(text, from, next?.offset ?? close);
  const alone = previous !== undefined && ownLineIndent(text, previous.offset) !== undefined;
  if (next === undefined && comma === undefined) {
    const end = alone ? endOfLineIfQuiet(text, from, close) : undefined;
    return end === undefined
      ? [
          {
            offset: from,
            length: 0,
            text: alone
              ? `,${lineEnd}${indent}${entry}${lineEnd}${lineIndent(text, log.offset)}`
              : `, ${entry}`,
          },
        ]
      : merged([
          { offset: from, length: 0, text: "," },
          { offset: end, length: 0, text: `${lineEnd}${indent}${entry}` },
        ]);
  }
  const afterComma = comma === undefined ? from : comma + 1;
  const end = alone ? endOfLineIfQuiet(text, afterComma, next?.offset ?? close) : undefined;
  return end === undefined
    ? [{ offset: afterComma, length: 0, text: ` ${entry},` }]
    : [{ offset: end, length: 0, text: `${lineEnd}${indent}${entry},` }];
}

/** Edits that take the entry at `index` and one comma away; comments stay. */
function deleteText(scan: Scan, log: Stretch, index: number): TextEdit[] {
  const { text, stretches } = scan;
  const own = stretches[index] ?? { offset: 0, length: 0 };
  const previous = stretches[index - 1];
  const next = stretches[index + 1];
  const end = own.offset + own.length;
  const close = log.offset + log.length - 1;
  const comma = commaAfter(text, end, next?.offset ?? close);

  if (comma !== undefined) {
    const tail = endOfLineIfBlank(text, comma + 1);
    const quiet = text.slice(end, comma).trim() === "";
    if (quiet && tail !== undefined && ownLineIndent(text, own.offset) !== undefined) {
      const start = lineStart(text, own.offset);
      return [{ offset: start, length: tail - start, text: "" }];
    }
    if (quiet) {
      const space = /^[ \t]*/.exec(text.slice(comma + 1, next?.offset ?? close))?.[0].length ?? 0;
      return [{ offset: own.offset, length: comma + 1 + space - own.offset, text: "" }];
    }
    return [
      { offset: own.offset, length: own.length, text: "" },
      { offset: comma, length: 1, text: "" },
    ];
  }
  const edits: TextEdit[] = [];
  if (previous !== undefined) {
    const before = commaAfter(text, previous.offset + previous.length, own.offset);
    if (before !== undefined) edits.push({ offset: before, length: 1, text: "" });
  }
  const tail = endOfLineIfBlank(text, end);
  const start = lineStart(text, own.offset);
  const alone = ownLineIndent(text, own.offset) !== undefined && start > log.offset;
  if (alone && tail !== undefined) edits.push({ offset: start, length: tail - start, text: "" });
  else {
    const space = previous === undefined ? 0 : blanksBefore(text, own.offset, edits[0]);
    edits.push({ offset: own.offset - space, length: own.length + space, text: "" });
  }
  return edits;
}

function blanksBefore(text: string, offset: number, comma: TextEdit | undefined): number {
  let start = offset;
  while (start > (comma === undefined ? 0 : comma.offset + 1) && /[ \t]/.test(text[start - 1] ?? "")) start--;
  return offset - start;
}

// ---- Text of one entry

/** Edits to the text of an entry that set or take away one field. */
function fieldEdits(source: string, { path, value }: FieldChange, kind: string): TextEdit[] {
  const tree = parseTree(source, [], { allowTrailingComma: true });
  if (tree === undefined) return [];
  const node = findLast(tree, path);
  if (node !== undefined) {
    if (value === undefined) return removal(source, node);
    return [{ offset: node.offset, length: node.length, text: entryText(value) }];
  }
  if (value === undefined) return [];
  const key = path[path.length - 1];
  const parentPath = path.slice(0, -1);
  const parent = findLast(tree, parentPath);
  if (parent === undefined) {
    // The parent is missing too: set it with this field inside.
    const inner: Json = typeof key === "number" ? [value] : { [String(key)]: value };
    return fieldEdits(source, { path: parentPath, value: inner }, kind);
  }
  const children = parent.children ?? [];
  const text = typeof key === "number" ? entryText(value) : `${JSON.stringify(key)}: ${entryText(value)}`;
  const isObject = parent.type === "object";
  if ((typeof key === "number") === isObject || (!isObject && parent.type !== "array")) {
    const inner: Json = typeof key === "number" ? [value] : { [String(key)]: value };
    return [{ offset: parent.offset, length: parent.length, text: entryText(inner) }];
  }
  if (children.length === 0) {
    const inside = source.slice(parent.offset + 1, parent.offset + parent.length - 1);
    if (inside.trim() === "")
      return [{ offset: parent.offset, length: parent.length, text: isObject ? `{ ${text} }` : `[${text}]` }];
    return [{ offset: parent.offset + 1, length: 0, text: isObject ? ` ${text}` : text }];
  }
  const after = isObject
    ? lastBefore(children, String(key), parentPath.length === 0 ? fieldOrder(kind) : [])
    : children[children.length - 1];
  if (after === undefined) {
    const first = children[0];
    return first === undefined ? [] : [{ offset: first.offset, length: 0, text: `${text}, ` }];
  }
  return [{ offset: after.offset + after.length, length: 0, text: `, ${text}` }];
}

/** Like `findNodeAtLocation`, but of two equal keys the last one, which is the one that counts. */
function findLast(tree: Node, path: readonly (string | number)[]): Node | undefined {
  let node: Node | undefined = tree;
  for (const key of path) {
    if (node === undefined) return undefined;
    if (typeof key === "number") node = node.type === "array" ? node.children?.[key] : undefined;
    else {
      const property: Node | undefined =
        node.type === "object"
          ? node.children?.findLast((child) => child.children?.[0]?.value === key)
          : undefined;
      node = property?.children?.[1];
    }
  }
  return node;
}

/** The property after which a new one goes: the last that comes before it in the order fields are written in. */
function lastBefore(properties: readonly Node[], key: string, order: readonly string[]): Node | undefined {
  const rank = order.indexOf(key);
  if (rank === -1) return properties[properties.length - 1];
  return properties.findLast((property) => {
    const other = order.indexOf(String(property.children?.[0]?.value));
    return other !== -1 && other < rank;
  });
}

function removal(source: string, value: Node): TextEdit[] {
  const item = value.parent?.type === "property" ? value.parent : value;
  const parent = item.parent;
  if (parent === undefined) return [];
  const siblings = parent.children ?? [];
  const index = siblings.indexOf(item);
  const previous = siblings[index - 1];
  const next = siblings[index + 1];
  const end = item.offset + item.length;
  if (previous !== undefined) {
    const from = previous.offset + previous.length;
    if (/^\s*,\s*$/.test(source.slice(from, item.offset)))
      return [{ offset: from, length: end - from, text: "" }];
    const comma = commaAfter(source, from, item.offset);
    return [
      ...(comma === undefined ? [] : [{ offset: comma, length: 1, text: "" }]),
      { offset: item.offset, length: item.length, text: "" },
    ];
  }
  if (next !== undefined) {
    if (/^\s*,\s*$/.test(source.slice(end, next.offset)))
      return [{ offset: item.offset, length: next.offset - item.offset, text: "" }];
    const comma = commaAfter(source, end, next.offset);
    return [
      { offset: item.offset, length: item.length, text: "" },
      ...(comma === undefined ? [] : [{ offset: comma, length: 1, text: "" }]),
    ];
  }
  const inside = source.slice(parent.offset + 1, parent.offset + parent.length - 1);
  if (inside.replace(source.slice(item.offset, end), "").trim() === "")
    return [{ offset: parent.offset + 1, length: inside.length, text: "" }];
  const comma = commaAfter(source, end, parent.offset + parent.length - 1);
  return [
    { offset: item.offset, length: item.length, text: "" },
    ...(comma === undefined ? [] : [{ offset: comma, length: 1, text: "" }]),
  ];
}

// ---- Characters

/** Offset of the comma between two offsets that lies outside comments. */
function commaAfter(text: string, from: number, to: number): number | undefined {
  for (let at = from; at < to; at++) {
    const here = text[at];
    if (here === ",") return at;
    if (here !== "/") continue;
    if (text[at + 1] === "/") {
      while (at < to && text[at] !== "\n" && text[at] !== "\r") at++;
    } else if (text[at + 1] === "*") {
      const close = text.indexOf("*/", at + 2);
      at = close === -1 ? to : close + 1;
    }
  }
  return undefined;
}

function lineStart(text: string, offset: number): number {
  let at = offset;
  while (at > 0 && text[at - 1] !== "\n" && text[at - 1] !== "\r") at--;
  return at;
}

function lineIndent(text: string, offset: number): string {
  const start = lineStart(text, offset);
  return /^[ \t]*/.exec(text.slice(start, offset))?.[0] ?? "";
}

/** The white space before an offset where nothing else stands before it on its line. */
function ownLineIndent(text: string, offset: number): string | undefined {
  const before = text.slice(lineStart(text, offset), offset);
  return /^[ \t]*$/.test(before) ? before : undefined;
}

function lineBefore(text: string, offset: number): boolean {
  return ownLineIndent(text, offset) === "" && offset > 0;
}

/** End of the line where only white space and whole comments stand from `from` on, before `limit`. */
function endOfLineIfQuiet(text: string, from: number, limit: number): number | undefined {
  let at = from;
  while (at < limit) {
    const here = text[at];
    if (here === "\n" || here === "\r") return at;
    if (here === "/" && text[at + 1] === "/") {
      while (at < limit && text[at] !== "\n" && text[at] !== "\r") at++;
      continue;
    }
    if (here === "/" && text[at + 1] === "*") {
      const close = text.indexOf("*/", at + 2);
      if (close === -1 || /[\r\n]/.test(text.slice(at, close))) return undefined;
      at = close + 2;
      continue;
    }
    if (here !== " " && here !== "\t") return undefined;
    at++;
  }
  return undefined;
}

/** The offset after this line's end, where only white space stands from `from` on. */
function endOfLineIfBlank(text: string, from: number): number | undefined {
  const rest = /^[ \t]*(\r\n|\n|\r)/.exec(text.slice(from, from + 400));
  return rest === null ? undefined : from + rest[0].length;
}

/** One edit that turns a stretch into `after`, without the characters both have at either end. */
function narrowed(text: string, { offset, length }: Stretch, after: string): TextEdit {
  const before = text.slice(offset, offset + length);
  let head = 0;
  while (head < before.length && head < after.length && before[head] === after[head]) head++;
  let tail = 0;
  while (
    tail < before.length - head &&
    tail < after.length - head &&
    before[before.length - 1 - tail] === after[after.length - 1 - tail]
  )
    tail++;
  return {
    offset: offset + head,
    length: before.length - head - tail,
    text: after.slice(head, after.length - tail),
  };
}

/** Edits in rising order; those that touch become one. */
function merged(edits: readonly TextEdit[]): TextEdit[] {
  const result: TextEdit[] = [];
  for (const edit of edits.toSorted((one, other) => one.offset - other.offset || one.length - other.length)) {
    const last = result[result.length - 1];
    if (last !== undefined && edit.offset <= last.offset + last.length) {
      const end = Math.max(last.offset + last.length, edit.offset + edit.length);
      result[result.length - 1] = {
        offset: last.offset,
        length: end - last.offset,
        text: last.text + edit.text,
      };
    } else result.push(edit);
  }
  return result;
}

// ---- Values

function withField(
  value: unknown,
  [key, ...rest]: readonly (string | number)[],
  field: Json | undefined,
): unknown {
  if (key === undefined) return plain(field);
  if (typeof key === "number") {
    const list = Array.isArray(value) ? [...(value as unknown[])] : [];
    if (field === undefined && rest.length === 0) list.splice(key, 1);
    else list[key] = withField(list[key], rest, field);
    return list;
  }
  const record: Record<string, unknown> = isRecord(value) ? { ...value } : {};
  if (field === undefined) {
    if (!Object.hasOwn(record, key)) return record;
    if (rest.length > 0) return { ...record, [key]: withField(record[key], rest, field) };
    const { [key]: _, ...others } = record;
    return others;
  }
  return { ...record, [key]: withField(record[key], rest, field) };
}

function plain(value: unknown): unknown {
  return value === undefined ? undefined : (JSON.parse(JSON.stringify(value)) as unknown);
}

/** Equal as JSON values; the order of fields does not matter. */
function same(one: unknown, other: unknown): boolean {
  if (one === other) return true;
  if (Array.isArray(one))
    return (
      Array.isArray(other) &&
      one.length === other.length &&
      one.every((item, index) => same(item, other[index]))
    );
  if (!isRecord(one) || !isRecord(other)) return false;
  const keys = Object.keys(one);
  return (
    keys.length === Object.keys(other).length &&
    keys.every((key) => Object.hasOwn(other, key) && same(one[key], other[key]))
  );
}

function isRecord(value: unknown): value is Record<string, unknown> {
  return typeof value === "object" && value !== null && !Array.isArray(value);
}
