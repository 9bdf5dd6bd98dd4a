// What a field of the detail strip means for the log: the text somebody typed, turned into the value the entry's schema
// wants there.

import type * as z from "zod";
import type { Change, Json } from "../bout/edit";
import { explain } from "../bout/explain";
import { failure, success, type Result } from "../bout/result";
import { entrySchemas, type Kind } from "../bout/schema";
import { formatTime, type Milliseconds } from "../bout/time";

/** What the strip sends: text stays text, a list may come as text with commas, a score as "3:2"; null and empty text
 * take the field away. */
export type FieldValue = string | number | boolean | null | readonly string[] | readonly [number, number];

/** The change that writes `value` into a field of the entry at `index`; `field` may name an inner one, "lamps.left".
 * The failure is a sentence for the person who typed it. */
export function fieldChange(
  index: number,
  kind: Kind,
  field: string,
  value: FieldValue,
): Result<Change, string> {
  const path = field.split(".");
  const schema = schemaAt(entrySchemas[kind], path);
  if (schema === undefined || field === "kind")
    return failure(`A ${kind} has no field "${field}" to write in.`);
  const set = (written: Json | undefined) =>
    success<Change>({ do: "change", index, fields: [{ path, value: written }] });
  if (value === null || (typeof value === "string" && value.trim() === ""))
    return schema.safeParse(undefined).success
      ? set(undefined)
      : failure(`A ${kind} can't do without ${field}; nothing was changed.`);
  const candidates = readings(value);
  const fitting = candidates.find((candidate) => schema.safeParse(candidate).success);
  return fitting !== undefined
    ? set(fitting)
    : failure(`${complaint(schema, path, candidates)}; nothing was changed.`);
}

/** What is wrong with the understanding of the text that came closest: the one whose mistake lies deepest inside. */
function complaint(schema: z.ZodType, path: readonly string[], candidates: readonly Json[]): string {
  let closest: { readonly depth: number; readonly words: string } | undefined;
  for (const candidate of candidates) {
    const issue = schema.safeParse(candidate).error?.issues[0];
    if (issue === undefined || issue.path.length <= (closest?.depth ?? -1)) continue;
    const words = explain({ ...issue, path: [...path, ...issue.path] }, nested(path, candidate));
    closest = { depth: issue.path.length, words };
  }
  return closest?.words ?? `this is no value for ${path.join(".")}`;
}

/** The ways to understand what was typed, the most literal first. */
function readings(value: Exclude<FieldValue, null>): Json[] {
  if (typeof value === "number")
    return Number.isInteger(value) && value >= 0 ? [value, formatTime(value as Milliseconds)] : [value];
  if (typeof value !== "string") return [typeof value === "boolean" ? value : [...value]];
  const text = value.trim();
  const list = text
    .split(",")
    .map((word) => word.trim())
    .filter((word) => word !== "");
  const pair = /^(\d+)\s*[:,\-\u2013 ]\s*(\d+)$/.exec(text);
  return [
    text,
    ...(/^[+-]?\d+(\.\d+)?$/.test(text) ? [Number(text)] : []),
    ...(text === "true" || text === "false" ? [text === "true"] : []),
    ...(pair === null ? [] : [[Number(pair[1]), Number(pair[2])]]),
    list,
  ];
}

function schemaAt(schema: z.ZodType, path: readonly string[]): z.ZodType | undefined {
  let found: z.ZodType | undefined = schema;
  for (const name of path) {
    const shape: Record<string, z.ZodType> | undefined = shapeOf(found);
    found = shape !== undefined && Object.hasOwn(shape, name) ? shape[name] : undefined;
    if (found === undefined) return undefined;
  }
  return found;
}

function shapeOf(schema: z.ZodType): Record<string, z.ZodType> | undefined {
  const def = schema.def as { shape?: Record<string, z.ZodType>; innerType?: z.ZodType };
  return def.shape ?? (def.innerType === undefined ? undefined : shapeOf(def.innerType));
}

function nested(path: readonly string[], value: unknown): unknown {
  return path.reduceRight<unknown>((inner, name) => ({ [name]: inner }), value);
}
