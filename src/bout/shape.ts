// What the schema asks for as plain data, so that it can be checked without the library the schema is written in. `npm run
// schema` writes it to `shapes.json`; `quick-entry.ts` checks by it.

import type * as z from "zod";
import { boutFileSchema, entrySchemas, kinds, type Kind } from "./schema";
import { timePattern } from "./time";

export type Shape =
  | { readonly is: "text" | "truth" | "time" }
  | { readonly is: "pattern"; readonly source: string }
  | { readonly is: "one of"; readonly values: readonly (string | number)[] }
  | { readonly is: "number"; readonly whole: boolean; readonly least?: number; readonly most?: number }
  | { readonly is: "list"; readonly of: Shape; readonly least: number }
  | { readonly is: "row"; readonly of: readonly Shape[] }
  | { readonly is: "either"; readonly of: readonly Shape[] }
  | FieldsShape;

export interface FieldsShape {
  readonly is: "fields";
  readonly needed: readonly string[];
  readonly fields: Readonly<Record<string, Shape>>;
}

export interface Shapes {
  /** All but the log. */
  readonly head: FieldsShape;
  readonly entries: Readonly<Record<Kind, FieldsShape>>;
}

export function shapesOfSchema(): Shapes {
  return {
    head: fieldsOf(boutFileSchema.omit({ log: true })),
    entries: Object.fromEntries(
      kinds.map((kind) => [kind, fieldsOf(entrySchemas[kind])]),
    ) as Shapes["entries"],
  };
}

/** The text of shapes.json. */
export function shapesText(): string {
  return `${JSON.stringify(shapesOfSchema())}\n`;
}

interface Check {
  readonly check: string;
  readonly format?: string;
  readonly pattern?: RegExp;
  readonly value?: number;
  readonly inclusive?: boolean;
  readonly minimum?: number;
}
interface Definition {
  readonly type: string;
  readonly format?: string;
  readonly checks?: readonly { readonly _zod: { readonly def: Check } }[];
  readonly in?: z.ZodType;
  readonly innerType?: z.ZodType;
  readonly shape?: Record<string, z.ZodType>;
  readonly element?: z.ZodType;
  readonly items?: readonly z.ZodType[];
  readonly rest?: z.ZodType | null;
  readonly options?: readonly z.ZodType[];
  readonly entries?: Record<string, string>;
  readonly values?: readonly (string | number)[];
}

/** Throws for what has no shape: whoever writes such a schema sees it at once. */
function shapeOf(schema: z.ZodType): Shape {
  const def = schema.def as unknown as Definition;
  const checks = (def.checks ?? []).map(({ _zod }) => _zod.def);
  const cannot = (): never => {
    throw new Error(`no shape for ${def.type} ${checks.map(({ check }) => check).join()}`);
  };
  switch (def.type) {
    case "string": {
      const [pattern, ...more] = checks;
      if (pattern === undefined) return { is: "text" };
      if (pattern.format !== "regex" || pattern.pattern === undefined || more.length > 0) return cannot();
      return { is: "pattern", source: pattern.pattern.source };
    }
    case "pipe": {
      // The one thing that is turned into another is a time.
      const [pattern] = (def.in?.def as unknown as Definition).checks ?? [];
      return pattern?._zod.def.pattern?.source === timePattern.source ? { is: "time" } : cannot();
    }
    case "boolean":
      return { is: "truth" };
    case "number":
      return numberShape(def.format === "safeint", checks, cannot);
    case "enum":
      return { is: "one of", values: Object.values(def.entries ?? {}) };
    case "literal":
      return { is: "one of", values: def.values ?? [] };
    case "array": {
      if (def.element === undefined || checks.some(({ check }) => check !== "min_length")) return cannot();
      return { is: "list", of: shapeOf(def.element), least: checks[0]?.minimum ?? 0 };
    }
    case "tuple":
      return (def.rest ?? null) === null && checks.length === 0
        ? { is: "row", of: (def.items ?? []).map(shapeOf) }
        : cannot();
    case "union":
      return { is: "either", of: (def.options ?? []).map(shapeOf) };
    case "object":
      return checks.length === 0 ? fieldsOf(schema) : cannot();
    default:
      return cannot();
  }
}

function numberShape(whole: boolean, checks: readonly Check[], cannot: () => never): Shape {
  let [least, most]: (number | undefined)[] = [];
  for (const { check, value, inclusive } of checks) {
    if (inclusive !== true) return cannot();
    if (check === "greater_than") least = value;
    else if (check === "less_than") most = value;
    else return cannot();
  }
  return {
    is: "number",
    whole,
    ...(least === undefined ? {} : { least }),
    ...(most === undefined ? {} : { most }),
  };
}

function fieldsOf(schema: z.ZodType): FieldsShape {
  const needed: string[] = [];
  const fields: Record<string, Shape> = {};
  for (const [name, field] of Object.entries((schema.def as unknown as Definition).shape ?? {})) {
    const { type, innerType } = field.def as unknown as Definition;
    if (type !== "optional") needed.push(name);
    fields[name] = shapeOf(type === "optional" && innerType !== undefined ? innerType : field);
  }
  return { is: "fields", needed, fields };
}
