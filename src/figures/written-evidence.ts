// An entry of a log as it is named on disk, where its place in the log may have changed since: by what it is, its time as
// written, and which of several alike it was. What is not there any more is lost, never the nearest.

import * as z from "zod";
import { timePattern } from "../bout/time";
import type { Ledger } from "../rules";

const alike = z
  .int()
  .min(0)
  .optional()
  .describe("Which of several entries of this kind at this time, from 0; left out: the first.");
const writtenTime = z
  .string()
  .regex(timePattern, { error: "a time is written h:mm:ss.mmm, for example 0:04:12.480" })
  .describe("The entry's time as the bout file writes it.");

export const writtenEvidenceSchema = z
  .strictObject({
    kind: z.string().describe("The entry's kind, for example phrase."),
    at: writtenTime,
    nth: alike,
  })
  .describe("An entry of a bout file.");
export const phraseEvidenceSchema = z
  .strictObject({ kind: z.literal("phrase").describe("A phrase."), at: writtenTime, nth: alike })
  .describe("A phrase picked by hand.");

export type WrittenEvidence = z.output<typeof writtenEvidenceSchema>;
export type PhraseEvidence = z.output<typeof phraseEvidenceSchema>;

/** How an entry (its place in `log`, from 0) is named on disk; undefined where no entry could be read there. */
export function writtenEvidenceOf(
  { rows, byEntry }: Ledger,
  entry: number,
): Required<WrittenEvidence> | undefined {
  const row = byEntry[entry];
  if (row === undefined) return undefined;
  const { at } = row.record;
  const nth = rows.filter(
    (other) => other.record.index < entry && other.kind === row.kind && other.record.at === at,
  ).length;
  return { kind: row.kind, at, nth };
}

/** The entry that is named, as its place in `log`; undefined where it is not there. */
export function entryOf({ rows }: Ledger, { kind, at, nth = 0 }: WrittenEvidence): number | undefined {
  return rows.filter((row) => row.kind === kind && row.record.at === at)[nth]?.record.index;
}
