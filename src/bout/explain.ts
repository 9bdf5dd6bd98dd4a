// What the schema found, said so that a coach knows what to write instead.

import { distance } from "fastest-levenshtein";
import type * as z from "zod";

type Path = readonly PropertyKey[];

/** One sentence about an issue of the schema. `root` is the value that was checked. */
export function explain(issue: z.core.$ZodIssue, root: unknown): string {
  const name = fieldName(issue.path);
  const value = valueAt(root, issue.path);
  switch (issue.code) {
    case "invalid_type":
      return value === undefined
        ? `${name} is missing; ${kindOfValue(issue.expected)} is expected`
        : `${name} should be ${kindOfValue(issue.expected)}, not ${shown(value)}`;
    case "invalid_value":
      return value === undefined
        ? `${name} is missing; use ${oneOf(issue.values)}`
        : `${shown(value)} is no value for ${name}; ${suggestion(value, issue.values)}`;
    case "invalid_union": {
      const values = issue.errors
        .flat()
        .flatMap((inner) => (inner.code === "invalid_value" ? inner.values : []));
      return value === undefined
        ? `${name} is missing; use ${oneOf(values)}`
        : values.length === 0
          ? `${shown(value)} is no value for ${name}`
          : `${shown(value)} is no value for ${name}; ${suggestion(firstText(value), values)}`;
    }
    case "too_small":
      return issue.origin === "array"
        ? `${name} needs at least ${issue.minimum} of them`
        : `${name} should be ${issue.minimum} or more, not ${shown(value)}`;
    case "too_big":
      return issue.origin === "array"
        ? `${name} takes ${issue.maximum} of them`
        : `${name} should be ${issue.maximum} or less, not ${shown(value)}`;
    case "invalid_format":
      return value === undefined ? `${name} is missing` : `${shown(value)} for ${name}: ${issue.message}`;
    default:
      return `${name}: ${issue.message}`;
  }
}

/** `the nearest is "…"` for a near miss, else the list of what is possible. */
export function suggestion(value: unknown, possible: readonly unknown[]): string {
  if (typeof value === "string") {
    let best: { word: string; away: number } | undefined;
    for (const word of possible) {
      if (typeof word !== "string") continue;
      const away = distance(value.slice(0, 60).toLowerCase(), word.toLowerCase());
      if (best === undefined || away < best.away) best = { word, away };
    }
    if (best !== undefined && best.away <= Math.ceil(best.word.length * 0.4))
      return `the nearest is "${best.word}"`;
  }
  return `use ${oneOf(possible)}`;
}

export function valueAt(root: unknown, path: Path): unknown {
  let value = root;
  for (const key of path) {
    if (typeof value !== "object" || value === null || !Object.hasOwn(value, key)) return undefined;
    value = (value as Record<PropertyKey, unknown>)[key];
  }
  return value;
}

function fieldName(path: Path): string {
  let name = "";
  for (const key of path)
    name += typeof key === "number" ? `[${key}]` : name === "" ? String(key) : `.${String(key)}`;
  return name === "" ? "this" : name;
}

function firstText(value: unknown): unknown {
  return Array.isArray(value) ? value.find((item) => typeof item === "string") : value;
}

function oneOf(values: readonly unknown[]): string {
  const words = values.map((value) => (typeof value === "string" ? `"${value}"` : String(value)));
  const listed = words.length > 16 ? [...words.slice(0, 6), "…"] : words;
  return listed.length > 1
    ? `${listed.slice(0, -1).join(", ")} or ${listed[listed.length - 1] ?? ""}`
    : (listed[0] ?? "");
}

function shown(value: unknown): string {
  const text = JSON.stringify(value) as string | undefined;
  return text === undefined ? "nothing" : text.length > 60 ? `${text.slice(0, 59)}…` : text;
}

function kindOfValue(expected: string): string {
  switch (expected) {
    case "string":
      return "text in double quotes";
    case "int":
      return "a whole number";
    case "number":
      return "a number";
    case "boolean":
      return "true or false";
    case "array":
    case "tuple":
      return "a list in [ ]";
    case "object":
      return "a group in { }";
    default:
      return expected;
  }
}
