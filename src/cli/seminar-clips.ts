// Which phrases of which bout files go into a pack, and from when to when each is shown: from before the command to fence
// until the lamps have settled, which is before the referee's first signal.

import { createHash } from "node:crypto";
import { existsSync } from "node:fs";
import path from "node:path";
import { failure, success, type Result } from "../bout/result";
import type { Weapon } from "../bout/words";
import { pickedPhrases } from "../figures/pick";
import type { Pick } from "../figures/pick-format";
import { writtenEvidenceOf } from "../figures/written-evidence";
import type { Ledger, PhraseRow } from "../rules";
import { signsOfChange, type Box } from "../video/clips";
import { frameTable, type MakeOptions } from "../video/index";
import { readText } from "../shelf/text";
import { recordingBeside } from "./recording";
import { masksFileOf, noMasks, readMasks, type Masks } from "./seminar-masks";
import { studyOfFile } from "../shelf/study";

/** A phrase that can be asked about. Times in seconds of the recording. */
export interface Question {
  readonly ledger: Ledger;
  readonly row: PhraseRow;
  readonly bout: string;
  readonly hash: string;
  readonly phrase: { readonly kind: "phrase"; readonly at: string; readonly nth: number };
  readonly recording: string;
  readonly from: number;
  readonly to: number;
  readonly boxes: readonly Box[];
}

export interface Showing {
  /** Seconds before the command to fence. */
  readonly lead: number;
  /** Milliseconds after the halt; undefined: by weapon. */
  readonly freeze: number | undefined;
  readonly hideLamps: boolean;
  /** Cuts out of a recording that has changed since clips were cut from it. */
  readonly goOn: boolean;
}

export interface BoutQuestions {
  readonly questions: readonly Question[];
  /** What makes it doubtful that the recording is the one that was tagged. */
  readonly notes: readonly string[];
}

/**
 * Milliseconds after the halt: until no second lamp can light any more after a touch at the halt, and a tenth of a second
 * to see the lamps. Lock-out times: foil 300 ms (as handbooks give it), sabre 170 ms (British Fencing, 31 May 2016), épée
 * 40 to 50 ms (FIE material rules of 2023 as cited in the Journal of Human Kinetics; its middle from memory).
 */
export const settled: Readonly<Record<Weapon, number>> = { foil: 400, sabre: 270, epee: 150 };

export async function questionsOf(
  file: string,
  pick: Pick,
  showing: Showing,
  making: MakeOptions,
): Promise<Result<BoutQuestions, string>> {
  const text = await readText(file);
  if (!text.ok) return failure(`${file}: ${text.problem}`);
  const { reading, study } = await studyOfFile(file, text.value);
  if (study === undefined || reading.scan.broken) return failure(`${file} can't be read as a bout file`);
  const { ledger } = study;
  const recording = recordingOf(file, ledger);
  if (!recording.ok) return recording;
  const masks = await masksOf(file);
  if (!masks.ok) return masks;
  const hash = createHash("sha256").update(text.value).digest("hex");
  const { entries, lost } = pickedPhrases(ledger, pick);
  const [gone] = lost;
  if (gone !== undefined)
    return failure(`${file}: the phrase at ${gone.at} that was picked by hand is not there`);
  if (entries.length === 0) return success({ questions: [], notes: [] });
  const frames = await frameTable(recording.value, making);
  if (!frames.ok) return failure(frames.problem.message);
  const bout = { name: path.basename(file), ledger, source: recording.value };
  const { doubts, changed } = await signsOfChange(bout, 0, frames.value.times, [path.dirname(file)]);
  if (changed !== undefined && !showing.goOn)
    return failure(`${changed}; --changed makes the pack of the new one`);
  const questions: Question[] = [];
  for (const index of entries) {
    const row = ledger.byEntry[index];
    const phrase = writtenEvidenceOf(ledger, index);
    if (row?.kind !== "phrase" || phrase === undefined) continue;
    const shot = row.state.pose.shot;
    const window = windowOf(ledger, row, masks.value, showing);
    if (shot === "replay" || window === undefined) continue;
    const boxes = boxesOf(masks.value, window.shots, showing.hideLamps);
    if (!boxes.ok) return failure(`${file}: ${boxes.problem}`);
    questions.push({
      ...{ ledger, row, hash, bout: bout.name, recording: recording.value, boxes: boxes.value },
      phrase: { kind: "phrase", at: phrase.at, nth: phrase.nth ?? 0 },
      ...{ from: window.from, to: window.to },
    });
  }
  return success({ questions, notes: changed === undefined ? doubts : [...doubts, `${changed}.`] });
}

/** From the lead-in, though never from before the last thing that was done about the phrase before. */
function windowOf(ledger: Ledger, row: PhraseRow, masks: Masks, { lead, freeze }: Showing) {
  const { start, halt } = row.entry;
  if (halt === undefined) return undefined;
  let earliest = 0;
  let shot = "main";
  for (const other of ledger.rows) {
    if (other === row) break;
    const { entry } = other;
    if (other.kind === "shot") shot = other.entry.name;
    // Platforms and fits are marked on the still picture just before the command.
    if (quiet.has(other.kind)) continue;
    for (const field of ["start", "at", "halt", "until"] as const) {
      const time = (entry as Readonly<Record<string, unknown>>)[field];
      if (typeof time === "number" && time <= start) earliest = Math.max(earliest, time);
    }
  }
  const to = halt + (masks.shots[shot]?.freeze ?? freeze ?? settled[ledger.bout.about.weapon]);
  // Another picture that comes before the lamps have settled must be masked as well.
  const later = ledger.rows.flatMap((other) =>
    other.kind === "shot" && other.entry.at > start && other.entry.at <= to ? [other.entry.name] : [],
  );
  return {
    from: Math.max(earliest, start - 1000 * lead) / 1000,
    to: to / 1000,
    shots: [...new Set([shot, ...later])],
  };
}
const quiet: ReadonlySet<string> = new Set(["platforms", "fit", "distance", "note"]);

function boxesOf(
  { shots }: Masks,
  names: readonly string[],
  hideLamps: boolean,
): Result<readonly Box[], string> {
  if (hideLamps) {
    const bare = names.find((name) => (shots[name]?.lamps ?? []).length === 0);
    if (bare !== undefined)
      return failure(
        `to hide the lamps, say where they are: "lamps" boxes of the shot "${bare}" in the masks file`,
      );
  }
  return success(
    names.flatMap((name) => [
      ...(shots[name]?.boxes ?? []),
      ...(hideLamps ? (shots[name]?.lamps ?? []) : []),
    ]),
  );
}

async function masksOf(file: string): Promise<Result<Masks, string>> {
  const beside = masksFileOf(file);
  if (!existsSync(beside)) return success(noMasks);
  const text = await readText(beside);
  const read = text.ok ? readMasks(text.value) : text;
  return read.ok ? read : failure(`${beside}: ${read.problem}`);
}

function recordingOf(file: string, { bout }: Ledger): Result<string, string> {
  const [first] = bout.recordings;
  if (first === undefined) return failure(`${file} names no recording`);
  const recording = recordingBeside(file, first.file);
  return recording.ok ? success(path.resolve(recording.value)) : failure(`${file}: ${recording.problem}`);
}
