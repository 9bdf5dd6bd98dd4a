// Makes one viewing copy, and takes it only if it shows the recording's frames at the recording's times.

import { rmSync } from "node:fs";
import { rename, rm, utimes } from "node:fs/promises";
import path from "node:path";
import { failure, type Result, success } from "../bout/result";
import { givenUp, unmade } from "./complaint";
import { type CopiedFrames, copiedFrames } from "./copied-frames";
import { type CopyProgress, progressOf } from "./copy-progress";
import { type Outcome, runFfmpeg } from "./ffmpeg";
import { keepTable } from "./frame-cache";
import type { Kept } from "./kept";
import {
  type FrameIndex,
  identity,
  patience,
  pictureOf,
  type Reading,
  readingOf,
  readRecording,
} from "./frame-index";
import { type MakeOptions, type VideoProblem, videoProblem } from "./problem";
import { unlessStuck, within } from "./process";
import { findProgram, type Program } from "./programs";
import { copyOptions, type CopyKind } from "./recipe";

export interface CopyRequest {
  /** Full path of the recording. */
  readonly file: string;
  readonly kind: CopyKind;
  /** Most lines of the picture. */
  readonly lines: number;
  /** Full path of the copy, and of what it is called until it is finished. */
  readonly target: string;
  readonly part: string;
  readonly progress: (progress: CopyProgress) => void;
}

interface Programs {
  readonly ffmpeg: Program;
  readonly ffprobe: Program;
}

/** A copy that was written, and the table of its frames as it has them. */
interface Written extends CopiedFrames {
  readonly own: FrameIndex;
}

export async function makeCopy(
  request: CopyRequest,
  options: MakeOptions & { readonly signal: AbortSignal },
): Promise<Result<CopiedFrames, VideoProblem>> {
  const { file, part, kind } = request;
  const { signal } = options;
  const ffmpeg = await findProgram("ffmpeg", options.ffmpegPath);
  if (!ffmpeg.ok) return ffmpeg;
  const ffprobe = await findProgram("ffprobe", options.ffprobePath);
  if (!ffprobe.ok) return ffprobe;
  const reading = await readingOf(file, options);
  if (!reading.ok) return reading;
  const programs = { ffmpeg: ffmpeg.value, ffprobe: ffprobe.value };
  removeAtExit(part);
  try {
    let written = await writeCopy(request, reading.value, programs, signal);
    // A picture that is taken over may bring frames along that an edit list hides.
    if (!written.ok && written.problem.rule === "copy-differs" && kind === "sound")
      written = await writeCopy({ ...request, kind: "whole" }, reading.value, programs, signal);
    return written.ok ? await finish(request, written.value, options.cacheDir) : written;
  } finally {
    await rm(part, { force: true }).catch(() => undefined);
    parts.delete(part);
  }
}

async function writeCopy(
  { file, kind, lines, part, progress }: CopyRequest,
  { metadata, index }: Reading,
  { ffmpeg, ffprobe }: Programs,
  signal: AbortSignal,
): Promise<Result<Written, VideoProblem>> {
  const before = await identity(file);
  if (!before.ok) return before;
  const progressAt = progressOf(index.times.at(-1) ?? 0);
  const outcome = await unlessStuck(signal, (signal, alive) =>
    runFfmpeg(ffmpeg, {
      file,
      options: copyOptions(kind, metadata, index, lines, ffmpeg),
      output: part,
      signal,
      reached: (seconds) => {
        const now = progressAt(seconds);
        if (now === undefined) return;
        alive();
        progress(now);
      },
    }),
  );
  if (signal.aborted) return failure(givenUp(signal, file));
  const after = await identity(file);
  if (!after.ok) return after;
  if (after.value.size !== before.value.size || after.value.modified !== before.value.modified)
    return failure(videoProblem("recording-changed", `${file} changed while its viewing copy was made.`));
  const folder = path.dirname(part);
  if (!outcome.done) return failure(unmade("The viewing copy", file, folder, outcome));
  progress({ share: 1, secondsLeft: 0, state: "checking" });
  const own = await framesWritten(part, ffprobe, signal);
  // At its very end ffmpeg may find the disk full and say so, but not fail.
  if (!own.ok)
    return own.problem.rule === "cancelled"
      ? own
      : failure(unmade("The viewing copy", file, folder, withReason(outcome, own.problem)));
  const interlaced = pictureOf(metadata.streams)?.interlaced ?? false;
  const copied = copiedFrames(index, interlaced, own.value);
  if (copied.ok) return success({ ...copied.value, own: own.value });
  if (/No space left/i.test(outcome.complaint))
    return failure(unmade("The viewing copy", file, folder, outcome));
  return failure(
    videoProblem("copy-differs", `The viewing copy of ${file} was not kept: ${copied.problem}.`),
  );
}

async function framesWritten(
  part: string,
  ffprobe: Program,
  signal: AbortSignal,
): Promise<Result<FrameIndex, VideoProblem>> {
  const state = await identity(part);
  if (!state.ok) return state;
  const reading = await within(patience(state.value), signal, (signal) =>
    readRecording(ffprobe, state.value, signal),
  );
  return reading.ok ? success(reading.value.index) : reading;
}

function withReason(outcome: Outcome, { message }: VideoProblem): Outcome {
  return outcome.complaint === "" ? { ...outcome, complaint: message } : outcome;
}

/** Gives the copy its name, all at once. */
async function finish(
  { file, part, target }: CopyRequest,
  { own, index, missing }: Written,
  cacheDir: string,
): Promise<Result<CopiedFrames, VideoProblem>> {
  try {
    // Whole seconds, so that a later change of the time of use alone leaves this one exactly as it is.
    const now = Math.floor(Date.now() / 1000);
    await utimes(part, now, now);
    await rename(part, target);
  } catch (error) {
    // Windows does not put it in the place of one that is being read: then another machine was quicker.
    if (!(await identity(target)).ok)
      return failure(
        unmade("The viewing copy", file, path.dirname(target), {
          done: false,
          killed: false,
          complaint: error instanceof Error ? error.message : String(error),
        }),
      );
  }
  const kept: Result<Kept, VideoProblem> = await identity(target);
  if (kept.ok) await keepTable(cacheDir, kept.value, own);
  return success({ index, missing });
}

/** Copies not finished yet, removed at the latest when this process ends. */
const parts = new Set<string>();
let watching = false;

function removeAtExit(part: string): void {
  parts.add(part);
  if (watching) return;
  watching = true;
  process.once("exit", () => {
    for (const left of parts) rmSync(left, { force: true });
  });
}
