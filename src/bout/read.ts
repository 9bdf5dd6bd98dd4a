// What a bout file says: both fencers, the recordings, and the log entry by entry, each with where it stands in the
// text. An entry that can't be read is reported and skipped; the rest is read.

import { findNodeAtLocation, parseTree, type Node } from "jsonc-parser";
import type * as z from "zod";
import type { EntryCache } from "./entry-cache";
import { explain, suggestion } from "./explain";
import { quickEntry, quickHead, type Head } from "./quick-entry";
import type { Problem, Severity } from "./result";
import { isRecord } from "./json-value";
import { placer, scanBout, type Scan, type Stretch } from "./scan";
import {
  aboutSchema,
  boutFileSchema,
  entrySchemas,
  kinds,
  type About,
  type Entry,
  type Fencers,
  type Kind,
  type Recording,
  type Tagged,
} from "./schema";
import { currentVersion, timeField } from "./written";

/** One log entry that could be read. `index` counts in the file's `log`, unreadable entries included. */
export interface EntryRecord {
  readonly index: number;
  readonly entry: Entry;
  /** The entry's time as written. */
  readonly at: string;
  readonly offset: number;
  readonly length: number;
}

export interface Bout {
  readonly version: number;
  readonly about: About;
  readonly fencers: Fencers;
  readonly recordings: readonly Recording[];
  readonly tagged: Tagged | undefined;
  readonly log: readonly EntryRecord[];
}

export interface Reading {
  readonly scan: Scan;
  /** Undefined where something that must be there is missing; the problems say what. */
  readonly bout: Bout | undefined;
  readonly problems: readonly Problem[];
  /** False for a text that is not JSON, has no log, or is of a later version: such a file is never rewritten. */
  readonly editable: boolean;
}

/** `cache` is shared between the readings of a changing document. */
export function readBout(text: string, cache?: EntryCache): Reading {
  return readScan(scanBout(text), cache);
}

/** Reads a text that was scanned before. */
export function readScan(scan: Scan, cache?: EntryCache): Reading {
  const { text } = scan;
  const problems: Problem[] = [...scan.problems];
  const place = placer(text);
  let tree: Node | undefined;
  const at = (path: readonly PropertyKey[]): Stretch => {
    tree ??= parseTree(text.startsWith("\uFEFF") ? ` ${text.slice(1)}` : text, [], {
      allowTrailingComma: true,
    });
    return nearestNode(tree, path) ?? { offset: 0, length: 0 };
  };
  const report = (rule: string, severity: Severity, message: string, path: readonly PropertyKey[]) => {
    const { offset, length } = at(path);
    problems.push({ rule, severity, message, place: place(offset, length) });
  };

  const root = scan.root;
  if (!isRecord(root)) {
    if (!scan.broken) report("not-a-bout-file", "error", "a bout file is a group in { }", []);
    return { scan, bout: undefined, problems, editable: false };
  }
  const version = root["boutline"];
  const later = typeof version === "number" && version > currentVersion;
  if (later)
    report(
      "later-version",
      "warning",
      `this file has version ${version}; this Boutline knows version ${currentVersion}, reads what it understands and changes nothing`,
      ["boutline"],
    );

  const header = readHeader(root, report);
  for (const path of unknownFields(headerKeys, root))
    report("unknown-field", "warning", unknownFieldMessage(headerKeys, path), path);

  const log = readLog(scan, place, problems, cache);
  const bout = header === undefined || scan.log === undefined ? undefined : { ...header, log };
  return { scan, bout, problems, editable: !scan.broken && !later && scan.log !== undefined };
}

type Report = (rule: string, severity: Severity, message: string, path: readonly PropertyKey[]) => void;

const headerSchema = boutFileSchema.omit({ log: true, $schema: true });

/** Reads all but the log. A field that may be left out and is wrong is reported and left out. */
function readHeader(root: Record<string, unknown>, report: Report): Omit<Bout, "log"> | undefined {
  if (root["log"] === undefined) report("missing", "error", 'log is missing; add "log": []', []);
  else if (!Array.isArray(root["log"]))
    report("wrong-value", "error", "log should be a list in [ ]", ["log"]);
  const { log: _, ...rest } = root;
  const quick = quickHead(rest);
  if (quick !== undefined) return headOf(quick);
  const kept = JSON.parse(JSON.stringify(rest)) as Record<string, unknown>;
  const reported = new Set<string>();
  for (;;) {
    const parsed = headerSchema.safeParse(kept);
    if (parsed.success) return headOf(parsed.data);
    let dropped = false;
    for (const issue of parsed.error.issues) {
      const name = JSON.stringify(issue.path);
      if (!reported.has(name)) report("wrong-value", "error", explain(issue, root), issue.path);
      reported.add(name);
      dropped = dropAt(kept, issue.path) || dropped;
    }
    if (!dropped) return undefined;
  }
}

function headOf({ boutline, bout, fencers, recordings, tagged }: Head): Omit<Bout, "log"> {
  return { version: boutline, about: bout, fencers, recordings: recordings ?? [], tagged };
}

/** Takes the value at a path out; an item of a list takes the whole item along. False when nothing is there. */
function dropAt(root: Record<string, unknown>, path: readonly PropertyKey[]): boolean {
  const item = path.findIndex((key) => typeof key === "number");
  const steps = item === -1 ? path : path.slice(0, item + 1);
  let parent: unknown = root;
  for (const key of steps.slice(0, -1))
    parent =
      isRecord(parent) || Array.isArray(parent) ? (parent as Record<PropertyKey, unknown>)[key] : undefined;
  const last = steps[steps.length - 1];
  if (last === undefined) return false;
  if (Array.isArray(parent) && typeof last === "number" && last < parent.length) {
    parent.splice(last, 1);
    return true;
  }
  if (!isRecord(parent) || !Object.hasOwn(parent, last)) return false;
  // eslint-disable-next-line @typescript-eslint/no-dynamic-delete -- a copy of parsed JSON
  delete parent[last as string];
  return true;
}

function readLog(
  scan: Scan,
  place: ReturnType<typeof placer>,
  problems: Problem[],
  cache: EntryCache | undefined,
): EntryRecord[] {
  const records: EntryRecord[] = [];
  scan.entries.forEach((raw, index) => {
    const stretch = scan.stretches[index];
    if (stretch === undefined) return;
    const { offset, length } = stretch;
    const text = () => scan.text.slice(offset, offset + length);
    let entry = cache?.find(raw, text);
    if (entry === undefined) {
      const before = problems.length;
      entry = readEntry(raw, (rule, severity, message, path) => {
        const tree = parseTree(text(), [], { allowTrailingComma: true });
        const inside = nearestNode(tree, path) ?? { offset: 0, length };
        problems.push({
          rule,
          severity,
          message,
          place: place(offset + inside.offset, inside.length),
          entry: index,
        });
      });
      if (entry !== undefined && problems.length === before) cache?.keep(raw, text(), entry);
    }
    if (entry === undefined || !isRecord(raw)) return;
    records.push({ index, entry, at: String(raw[timeField(entry.kind)]), offset, length });
  });
  return records;
}

function readEntry(raw: unknown, report: Report): Entry | undefined {
  const quick = quickEntry(raw);
  if (quick !== undefined) return quick;
  if (!isRecord(raw)) {
    report("wrong-value", "error", "a log entry is a group in { }; this one is skipped", []);
    return undefined;
  }
  const kind = raw["kind"];
  if (!isKind(kind)) {
    const message =
      kind === undefined
        ? `kind is missing; use one of ${kinds.join(", ")}`
        : `${JSON.stringify(kind)} is no kind of entry; ${suggestion(kind, kinds)}`;
    report("unknown-kind", "error", `${message}. The entry is skipped.`, kind === undefined ? [] : ["kind"]);
    return undefined;
  }
  const parsed = entrySchemas[kind].safeParse(raw);
  if (!parsed.success) {
    for (const issue of parsed.error.issues)
      report("wrong-value", "error", `${explain(issue, raw)}. The entry is skipped.`, issue.path);
    return undefined;
  }
  if (hasUnknownField(entryKeys[kind], raw))
    for (const path of unknownFields(entryKeys[kind], raw))
      report("unknown-field", "warning", unknownFieldMessage(entryKeys[kind], path), path);
  const entry = parsed.data;
  if (
    entry.kind === "review" &&
    entry.award === undefined &&
    (entry.result === "changed" || entry.result === "decided")
  ) {
    report(
      "missing",
      "error",
      `a review that ${entry.result} the call needs its award: what stands. The entry is skipped.`,
      ["result"],
    );
    return undefined;
  }
  return entry;
}

/** The fields a schema knows, as a tree: an object's by name, a list's items under one node. */
interface KeyTree {
  readonly fields?: ReadonlyMap<string, KeyTree>;
  readonly items?: KeyTree;
}

function keyTree(schema: z.core.$ZodType): KeyTree {
  const def = (schema as z.ZodType).def as {
    type: string;
    shape?: Record<string, z.core.$ZodType>;
    innerType?: z.core.$ZodType;
    element?: z.core.$ZodType;
  };
  if (def.shape !== undefined)
    return { fields: new Map(Object.entries(def.shape).map(([name, field]) => [name, keyTree(field)])) };
  if (def.innerType !== undefined) return keyTree(def.innerType);
  if (def.element !== undefined) return { items: keyTree(def.element) };
  return {};
}

const headerKeys = keyTree(boutFileSchema.extend({ log: aboutSchema.shape.title }));
const entryKeys = Object.fromEntries(kinds.map((kind) => [kind, keyTree(entrySchemas[kind])])) as Record<
  Kind,
  KeyTree
>;

/** Asked of every entry, so it makes no objects; where they are is only worked out when there are any. */
function hasUnknownField({ fields, items }: KeyTree, value: unknown): boolean {
  if (fields !== undefined && isRecord(value)) {
    for (const name in value) {
      const field = fields.get(name);
      if (field === undefined || (!isLeaf(field) && hasUnknownField(field, value[name]))) return true;
    }
  } else if (items !== undefined && !isLeaf(items) && Array.isArray(value))
    for (const item of value) if (hasUnknownField(items, item)) return true;
  return false;
}

function isLeaf({ fields, items }: KeyTree): boolean {
  return fields === undefined && items === undefined;
}

function unknownFields(
  tree: KeyTree,
  value: unknown,
  path: readonly PropertyKey[] = noPath,
): PropertyKey[][] {
  const found: PropertyKey[][] = [];
  if (tree.fields !== undefined && isRecord(value))
    for (const name of Object.keys(value)) {
      const field = tree.fields.get(name);
      if (field === undefined) found.push([...path, name]);
      else if (field.fields !== undefined || field.items !== undefined)
        found.push(...unknownFields(field, value[name], [...path, name]));
    }
  else if (
    tree.items !== undefined &&
    Array.isArray(value) &&
    (tree.items.fields ?? tree.items.items) !== undefined
  ) {
    const items = tree.items;
    value.forEach((item, index) => found.push(...unknownFields(items, item, [...path, index])));
  }
  return found;
}
const noPath: readonly PropertyKey[] = [];

function unknownFieldMessage(tree: KeyTree, path: readonly PropertyKey[]): string {
  const name = String(path[path.length - 1]);
  let parent: KeyTree | undefined = tree;
  for (const key of path.slice(0, -1))
    parent = typeof key === "number" ? parent?.items : parent?.fields?.get(String(key));
  const names = [...(parent?.fields?.keys() ?? [])];
  return `"${name}" is no field Boutline knows here; it is kept and not used (${suggestion(name, names)})`;
}

function nearestNode(tree: Node | undefined, path: readonly PropertyKey[]): Stretch | undefined {
  if (tree === undefined) return undefined;
  for (let length = path.length; length >= 0; length--) {
    const node = findNodeAtLocation(tree, path.slice(0, length) as (string | number)[]);
    if (node !== undefined)
      return length === 0 ? { offset: node.offset, length: Math.min(1, node.length) } : node;
  }
  return undefined;
}

function isKind(value: unknown): value is Kind {
  return typeof value === "string" && Object.hasOwn(entrySchemas, value);
}
