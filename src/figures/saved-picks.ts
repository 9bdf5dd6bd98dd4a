// Picks saved beside a bout file, NAME.picks.json: plain JSON, read and written as text.

import * as z from "zod";
import { explain } from "../bout/explain";
import { entryText, plain, type Json } from "../bout/json-value";
import { failure, success, type Result } from "../bout/result";
import { pickSchema } from "./pick-format";

export const picksFileEnding = ".picks.json";

export const savedPickSchema = z
  .strictObject({
    name: z.string().trim().min(1).max(100).describe("What the pick is called."),
    bout: z.string().optional().describe("The bout file whose phrases were picked by hand."),
    hash: z
      .string()
      .regex(/^[0-9a-f]{64}$/, { error: "a hash is 64 digits and letters from a to f" })
      .optional()
      .describe("SHA-256 of that bout file when they were picked."),
    pick: pickSchema,
  })
  .describe("A pick with its name.");
export type SavedPick = z.output<typeof savedPickSchema>;

export const picksFileSchema = z
  .strictObject({
    $schema: z.string().optional().describe("Accepted and ignored."),
    picks: z.literal(1).describe("Version of this format: 1."),
    saved: z.array(savedPickSchema).describe("The picks."),
  })
  .describe("Picks of phrases, saved by Boutline.");
export type PicksFile = z.output<typeof picksFileSchema>;

export const noPicks: PicksFile = { picks: 1, saved: [] };

/** The file of a bout file's saved picks, both without or both with a folder. */
export function picksFileOf(boutFile: string): string {
  return `${boutFile.replace(/\.bout\.json$/, "").replace(/\.json$/, "")}${picksFileEnding}`;
}

/** The failure says what is wrong, for a person. */
export function readPicks(text: string): Result<PicksFile, string> {
  let value: unknown;
  try {
    value = JSON.parse(text.replace(/^\uFEFF/, ""));
  } catch (error) {
    return failure(`this is no JSON (${error instanceof Error ? error.message : String(error)})`);
  }
  const read = picksFileSchema.safeParse(value);
  if (!read.success) {
    const [issue] = read.error.issues;
    const where = issue === undefined || issue.path.length === 0 ? "" : `${issue.path.join(".")}: `;
    return failure(issue === undefined ? "this holds no picks" : `${where}${explain(issue, value)}`);
  }
  const names = new Set<string>();
  for (const { name } of read.data.saved) {
    if (names.has(name)) return failure(`two picks are called "${name}"; rename one`);
    names.add(name);
  }
  return success(read.data);
}

/** One line a pick, so that changes read well side by side. */
export function picksText({ picks, saved }: PicksFile): string {
  const lines = saved.map((pick) => `    ${entryText(plain(pick) as Json)}`);
  return `{\n  "picks": ${picks},\n  "saved": [${lines.length === 0 ? "" : `\n${lines.join(",\n")}\n  `}]\n}\n`;
}

/** With this pick in the place of the one of its name, else at the end. */
export function withPick(file: PicksFile, pick: SavedPick): PicksFile {
  const there = file.saved.some(({ name }) => name === pick.name);
  const saved = there
    ? file.saved.map((one) => (one.name === pick.name ? pick : one))
    : [...file.saved, pick];
  return { ...file, saved };
}

export function withoutPick(file: PicksFile, name: string): PicksFile {
  return { ...file, saved: file.saved.filter((one) => one.name !== name) };
}
