// The plan a coach has written for a fencer: three things to do, each tied to phrases. Plain JSON beside the bout files,
// FENCER.plan.json, read and written as text.

import { sha256 } from "@noble/hashes/sha2.js";
import { bytesToHex, utf8ToBytes } from "@noble/hashes/utils.js";
import * as z from "zod";
import { explain } from "../../bout/explain";
import { entryText, plain, type Json } from "../../bout/json-value";
import { failure, success, type Result } from "../../bout/result";
import { writtenEvidenceSchema, type WrittenEvidence } from "../written-evidence";

export const planFileEnding = ".plan.json";
/** Things to do that a plan has room for. */
export const planThings = 3;
/** Letters of one thing to do. */
const mostLetters = 5000;

const tiedBoutSchema = z
  .looseObject({
    bout: z.string().min(1).describe("The bout file, from the plan's folder, with / between folders."),
    hash: z
      .string()
      .regex(/^[0-9a-f]{64}$/, { error: "a hash is 64 digits and letters from a to f" })
      .optional()
      .describe("SHA-256 of that bout file when its phrases were tied."),
    entries: z.array(writtenEvidenceSchema).min(1).describe("The phrases, reviews or cards in it."),
  })
  .describe("Phrases of one bout.");

const tieSchema = z
  .looseObject({
    about: z.string().describe("What the phrases show: a sentence or a figure of the brief."),
    bouts: z.array(tiedBoutSchema).min(1).describe("The bouts the phrases are in."),
  })
  .describe("Phrases a thing to do is tied to.");

const thingSchema = z
  .looseObject({
    do: z
      .string()
      .max(mostLetters, { error: `a thing to do has at most ${mostLetters} letters` })
      .default("")
      .describe("What to do, in the coach's words."),
    ties: z.array(tieSchema).default([]).describe("The phrases it is tied to."),
  })
  .describe("One thing to do.");

export const planFileSchema = z
  .looseObject({
    $schema: z.string().optional().describe("Accepted and ignored."),
    plan: z.literal(1).describe("Version of this format: 1."),
    fencer: z.string().min(1).describe("Id of the fencer the brief is on."),
    against: z
      .string()
      .min(1)
      .optional()
      .describe("Id of the other, where the brief is on one against another."),
    things: z.array(thingSchema).max(planThings).describe("Up to three things to do."),
  })
  .describe("A plan made from a brief, written by Boutline.");

export type WrittenPlan = z.output<typeof planFileSchema>;
export type PlanThing = WrittenPlan["things"][number];
export type Tie = PlanThing["ties"][number];
export type TiedBout = Tie["bouts"][number];

export function noPlan(fencer: string, against: string | undefined): WrittenPlan {
  return { plan: 1, fencer, ...(against === undefined ? {} : { against }), things: [] };
}

/** The name of the plan's file. An id that could not be a file's name everywhere is told apart by its hash. */
export function planFileName(fencer: string, against: string | undefined): string {
  const names = [fencer, ...(against === undefined ? [] : [against])].map(nameOfId);
  return `${names.join(" against ")}${planFileEnding}`;
}

function nameOfId(id: string): string {
  if (/^[a-z0-9][a-z0-9_-]{0,39}$/.test(id) && !device.test(id)) return id;
  const letters = id
    .normalize("NFKD")
    .replace(/[^A-Za-z0-9]+/g, "-")
    .replace(/^-+|-+$/g, "")
    .slice(0, 40)
    .toLowerCase();
  return `${letters === "" ? "fencer" : letters}-${bytesToHex(sha256(utf8ToBytes(id))).slice(0, 8)}`;
}
/** Names that are devices on Windows, whatever their ending. */
const device = /^(con|prn|aux|nul|com[0-9]|lpt[0-9])$/;

/** The failure says what is wrong, for a person, in words that follow the file's name. */
export function readPlan(
  text: string,
  fencer: string,
  against: string | undefined,
): Result<WrittenPlan, string> {
  let value: unknown;
  try {
    value = JSON.parse(text.replace(/^\uFEFF/, ""));
  } catch (error) {
    return failure(`this is no JSON (${error instanceof Error ? error.message : String(error)})`);
  }
  const read = planFileSchema.safeParse(value);
  if (!read.success) {
    const [issue] = read.error.issues;
    const where = issue === undefined || issue.path.length === 0 ? "" : `${issue.path.join(".")}: `;
    return failure(issue === undefined ? "this holds no plan" : `${where}${explain(issue, value)}`);
  }
  const { data } = read;
  if (data.fencer !== fencer || data.against !== against)
    return failure(`this is the plan ${whose(data.fencer, data.against)}, not ${whose(fencer, against)}`);
  return success(data);
}

function whose(fencer: string, against: string | undefined): string {
  return `for "${fencer}"${against === undefined ? "" : ` against "${against}"`}`;
}

/** JSON laid out so that changes read well side by side: what fits on a line stands on one. */
export function planText(plan: WrittenPlan): string {
  return `${laidOut(plain(plan) as Json, "")}\n`;
}
const lineLength = 110;

function laidOut(value: Json, indent: string): string {
  const line = entryText(value);
  const inner = `${indent}  `;
  if (typeof value !== "object" || value === null || indent.length + line.length <= lineLength)
    return indent === "" && !Array.isArray(value) && isObject(value) ? opened(value, inner, indent) : line;
  if (!isObject(value))
    return `[\n${value.map((one) => `${inner}${laidOut(one, inner)}`).join(",\n")}\n${indent}]`;
  return opened(value, inner, indent);
}

function opened(value: { readonly [key: string]: Json }, inner: string, indent: string): string {
  const fields = Object.entries(value).map(
    ([key, field]) => `${inner}${JSON.stringify(key)}: ${laidOut(field, inner)}`,
  );
  return `{\n${fields.join(",\n")}\n${indent}}`;
}

function isObject(value: Json): value is { readonly [key: string]: Json } {
  return typeof value === "object" && value !== null && !Array.isArray(value);
}

// ---- Changes of a plan, one at a time, so that two people's can be made one after another

export function thingOf({ things }: WrittenPlan, at: number): PlanThing {
  return things[at] ?? { do: "", ties: [] };
}

export function withWords(plan: WrittenPlan, at: number, words: string): WrittenPlan {
  return withThing(plan, at, { ...thingOf(plan, at), do: words.slice(0, mostLetters) });
}

/** With these phrases as well; those of the same name are put together. */
export function withTie(plan: WrittenPlan, at: number, tie: Tie): WrittenPlan {
  const thing = thingOf(plan, at);
  const there = thing.ties.some(({ about }) => about === tie.about);
  const ties = there
    ? thing.ties.map((one) => (one.about === tie.about ? together(one, tie) : one))
    : [...thing.ties, tie];
  return withThing(plan, at, { ...thing, ties });
}

export function withoutTie(plan: WrittenPlan, at: number, about: string): WrittenPlan {
  const thing = thingOf(plan, at);
  return withThing(plan, at, { ...thing, ties: thing.ties.filter((one) => one.about !== about) });
}

function withThing(plan: WrittenPlan, at: number, thing: PlanThing): WrittenPlan {
  const things = Array.from({ length: Math.max(plan.things.length, at + 1) }, (_, index) =>
    index === at ? thing : thingOf(plan, index),
  );
  while (things.length > 0 && isBlank(things.at(-1))) things.pop();
  return { ...plan, things };
}

export function isBlank(thing: PlanThing | undefined): boolean {
  return thing === undefined || (thing.do.trim() === "" && thing.ties.length === 0);
}

function together(one: Tie, other: Tie): Tie {
  const bouts = new Map(one.bouts.map((bout) => [bout.bout, bout]));
  for (const more of other.bouts) {
    const there = bouts.get(more.bout);
    const known = new Set(there?.entries.map(nameOfEntry));
    const fresh = more.entries.filter((entry) => !known.has(nameOfEntry(entry)));
    bouts.set(more.bout, { ...there, ...more, entries: [...(there?.entries ?? []), ...fresh] });
  }
  return { ...one, bouts: [...bouts.values()] };
}

function nameOfEntry({ kind, at, nth = 0 }: WrittenEvidence): string {
  return `${kind} ${at} ${nth}`;
}
