import { readFileSync } from "node:fs";
import { expect, test } from "vitest";
import {
  boutFileJsonSchema,
  currentManifest,
  picksSchemaText,
  shapesText,
  planSchemaText,
  schemaText,
} from "../../src/host/generated";

const outOfDate = "out of date: run npm run schema";
const shipped = (file: string) => readFileSync(new URL(`../../${file}`, import.meta.url), "utf8");

test("The schema that ships is the one the code describes", () => {
  expect(shipped("media/bout.schema.json") === schemaText(), outOfDate).toBe(true);
  expect(shipped("media/picks.schema.json") === picksSchemaText(), outOfDate).toBe(true);
  expect(shipped("src/bout/shapes.json") === shapesText(), outOfDate).toBe(true);
  expect(shipped("media/plan.schema.json") === planSchemaText(), outOfDate).toBe(true);
});

test("The manifest has the commands and keys of the table", () => {
  const manifest = shipped("package.json");
  expect(manifest === currentManifest(manifest), outOfDate).toBe(true);
});

interface Schema {
  readonly type?: string;
  readonly pattern?: string;
  readonly description?: string;
  readonly additionalProperties?: unknown;
}

function parts(schema: unknown): Schema[] {
  if (typeof schema !== "object" || schema === null) return [];
  return [schema, ...Object.values(schema).flatMap(parts)];
}

test("Every group of the schema refuses fields it doesn't know, and every time says how it is written", () => {
  const all = parts(boutFileJsonSchema());
  const groups = all.filter(({ type }) => type === "object");
  expect(groups.length).toBeGreaterThan(20);
  expect(groups.filter((group) => group.additionalProperties !== false)).toEqual([]);
  const times = all.filter(({ pattern }) => pattern?.includes(":[0-5]") === true);
  expect(times.length).toBeGreaterThan(15);
  expect(times.filter(({ description }) => description?.includes("h:mm:ss.mmm") !== true)).toEqual([]);
});

test("Comments and trailing commas are no mistake", () => {
  expect(boutFileJsonSchema()).toMatchObject({ allowComments: true, allowTrailingCommas: true });
});

test("The words Boutline offers itself are checked by the schema and not offered by it", () => {
  const all = parts(boutFileJsonSchema()) as (Schema & { enum?: string[] })[];
  for (const word of ["left attack", "both lean back", "re-centre", "weapon test"]) {
    expect(all.filter(({ enum: values }) => values?.includes(word) === true)).toEqual([]);
    const patterns = all.flatMap(({ pattern }) =>
      pattern !== undefined && new RegExp(pattern).test(word) ? [pattern] : [],
    );
    expect(patterns.length, word).toBeGreaterThan(1);
    for (const pattern of patterns) expect(new RegExp(pattern).test(`${word} `)).toBe(false);
  }
});
