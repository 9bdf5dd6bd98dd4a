// The quick way to check values: by plain shapes made from the schema, a small function for each field. It says yes only
// where the schema says yes and knows every field; anything else is left to the schema, which says what is wrong.

import type { About, Entry, Fencers, Recording, Tagged } from "./schema";
import type { FieldsShape, Shape, Shapes } from "./shape";
import written from "./shapes.json";
import { parseTime } from "./time";

export interface Head {
  readonly boutline: number;
  readonly bout: About;
  readonly fencers: Fencers;
  readonly recordings?: readonly Recording[] | undefined;
  readonly tagged?: Tagged | undefined;
}

type Check = (value: unknown) => boolean;

/** Colons in what was found right so far: one for each property, and those inside words. */
let colons = 0;

/** Of the checks since the last call. Where a text has more, a key stands in it twice. */
export function colonsSeen(): number {
  const seen = colons;
  colons = 0;
  return seen;
}

/** The entry a raw value means; undefined where the schema has something to say about it. The value is not changed. */
export function quickEntry(raw: unknown): Entry | undefined {
  if (typeof raw !== "object" || raw === null) return undefined;
  const { kind, result, award } = raw as { kind?: unknown; result?: unknown; award?: unknown };
  const known = kinds.get(kind);
  if (known === undefined || !known.check(raw)) return undefined;
  // A review that changes something says what stands.
  if (kind === "review" && award === undefined && (result === "changed" || result === "decided"))
    return undefined;
  const entry: Record<string, unknown> = { ...raw };
  for (const time of known.times) {
    const text = entry[time];
    if (text !== undefined) entry[time] = parseTime(text as string);
  }
  return entry as unknown as Entry;
}

/** All of a bout file but the log, given without it. */
export function quickHead(raw: object): Head | undefined {
  return checkHead(raw) ? (raw as Head) : undefined;
}

function checkOf(shape: Shape): Check {
  switch (shape.is) {
    case "text":
      return (value) => {
        if (typeof value !== "string") return false;
        for (let at = value.indexOf(":"); at !== -1; at = value.indexOf(":", at + 1)) colons++;
        return true;
      };
    case "truth":
      return (value) => typeof value === "boolean";
    case "time":
      return (value) => {
        if (typeof value !== "string" || parseTime(value) === undefined) return false;
        colons += 2;
        return true;
      };
    case "pattern": {
      const pattern = new RegExp(shape.source);
      const text = checkOf({ is: "text" });
      return (value) => typeof value === "string" && pattern.test(value) && text(value);
    }
    case "one of": {
      const values = new Set<unknown>(shape.values);
      if (shape.values.some((value) => String(value).includes(":")))
        throw new Error("a word with a colon would not be counted");
      return (value) => values.has(value);
    }
    case "number": {
      const { whole, least = -Infinity, most = Infinity } = shape;
      return (value) =>
        typeof value === "number" &&
        (whole ? Number.isSafeInteger(value) : Number.isFinite(value)) &&
        value >= least &&
        value <= most;
    }
    case "list": {
      const { least } = shape;
      const check = checkOf(shape.of);
      return (value) => {
        if (!Array.isArray(value) || value.length < least) return false;
        for (const item of value) if (!check(item)) return false;
        return true;
      };
    }
    case "row": {
      const checks = shape.of.map(checkOf);
      return (value) =>
        Array.isArray(value) &&
        value.length === checks.length &&
        checks.every((check, index) => check(value[index]));
    }
    case "either": {
      const checks = shape.of.map(checkOf);
      return (value) => {
        const before = colons;
        for (const check of checks) {
          if (check(value)) return true;
          colons = before;
        }
        return false;
      };
    }
    case "fields":
      return checkOfFields(shape);
  }
}

function checkOfFields({ fields, needed }: FieldsShape): Check {
  const checks = new Map(
    Object.entries(fields).map(([name, shape]) => [
      name,
      { check: checkOf(shape), needed: needed.includes(name) ? 1 : 0 },
    ]),
  );
  return (value) => {
    if (typeof value !== "object" || value === null || Array.isArray(value)) return false;
    let missing = needed.length;
    for (const name in value) {
      const field = checks.get(name);
      if (field?.check((value as Record<string, unknown>)[name]) !== true) return false;
      missing -= field.needed;
      colons++;
    }
    return missing === 0;
  };
}

const shapes = written as Shapes;
const checkHead = checkOfFields(shapes.head);
const kinds = new Map<unknown, { readonly check: Check; readonly times: readonly string[] }>(
  Object.entries(shapes.entries).map(([kind, shape]) => [
    kind,
    {
      check: checkOfFields(shape),
      times: Object.keys(shape.fields).filter((name) => shape.fields[name]?.is === "time"),
    },
  ]),
);
