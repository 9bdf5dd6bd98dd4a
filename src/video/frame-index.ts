// When does each frame of a recording appear, and how far apart are the frames a browser can jump to?

import { stat } from "node:fs/promises";
import type { FrameTimes } from "../bout/frames";
import { failure, type Result, success } from "../bout/result";
import { keepTable, keptTable } from "./frame-cache";
import type { Kept } from "./kept";
import { listRecording, type Metadata, type Stream } from "./listing";
import { within } from "./process";
import { type VideoOptions, type VideoProblem, videoProblem } from "./problem";
import { findProgram, type Program } from "./programs";

export interface FrameIndex {
  /** Seconds from the first frame, rising. */
  readonly times: FrameTimes;
  /**
   * The first frame's own time in the file, in seconds. Chromium counts `currentTime` and `mediaTime` from the file's
   * zero, so both are greater by this. Usually 0; more in fragmented files and where sound begins earlier.
   */
  readonly first: number;
  /** Frames that can be decoded without others. */
  readonly keyFrames: number;
  /** Most frames from one of those to the next, in the order of the file. */
  readonly longestGop: number;
}

/** The frames of a recording, by full path; from the cache if it was read before and has not changed since. */
export async function frameTable(
  file: string,
  { cacheDir, ffprobePath, signal }: VideoOptions,
): Promise<Result<FrameIndex, VideoProblem>> {
  const kept = await identity(file);
  if (!kept.ok) return kept;
  const before = await keptTable(cacheDir, kept.value);
  if (before !== undefined) return success(before);
  const program = await findProgram("ffprobe", ffprobePath);
  if (!program.ok) return program;
  const reading = await within(patience(kept.value), signal, (signal) =>
    readAndKeep(program.value, kept.value, cacheDir, signal),
  );
  return reading.ok ? success(reading.value.index) : reading;
}

/** What the container says and the frames, of which the table may be kept from before. */
export async function readingOf(
  file: string,
  { cacheDir, ffprobePath, signal }: VideoOptions,
): Promise<Result<Reading, VideoProblem>> {
  const kept = await identity(file);
  if (!kept.ok) return kept;
  const program = await findProgram("ffprobe", ffprobePath);
  if (!program.ok) return program;
  return within(patience(kept.value), signal, async (signal) => {
    const index = await keptTable(cacheDir, kept.value);
    if (index === undefined) return readAndKeep(program.value, kept.value, cacheDir, signal);
    const listed = await listRecording(program.value, file, signal, "container");
    return listed.ok ? success({ metadata: listed.value.metadata, index }) : listed;
  });
}

/** Milliseconds reading a recording may take: a minute, and more at 10 MB a second. */
export function patience({ size }: Kept): number {
  return 60_000 + size / 10_000;
}

/** Which file, at which state, a table is of. */
export async function identity(file: string): Promise<Result<Kept, VideoProblem>> {
  try {
    const found = await stat(file);
    if (found.isFile()) return success({ file, size: found.size, modified: found.mtimeMs });
    return failure(videoProblem("recording-missing", `${file} is not a file.`));
  } catch {
    return failure(videoProblem("recording-missing", `${file} is not there or can't be read.`));
  }
}

export interface Reading {
  readonly metadata: Metadata;
  readonly index: FrameIndex;
}

/** Reads a recording anew, its container and its packets. */
export async function readRecording(
  program: Program,
  kept: Kept,
  signal: AbortSignal,
): Promise<Result<Reading, VideoProblem>> {
  const { file } = kept;
  const listed = await listRecording(program, file, signal, "packets");
  if (!listed.ok) return listed;
  const { metadata, packets } = listed.value;
  const stream = pictureOf(metadata.streams);
  if (stream === undefined)
    return failure(videoProblem("recording-without-picture", `${file} has no picture.`));
  const now = await identity(file);
  if (!now.ok || now.value.size !== kept.size || now.value.modified !== kept.modified)
    return failure(videoProblem("recording-changed", `${file} changed while it was being read.`));
  const { ticks = [], keys = 0, longestGop = 0 } = packets.get(stream.index) ?? {};
  if (ticks.length === 0)
    return failure(videoProblem("recording-without-picture", `${file} has no frames that can be read.`));
  return success({ metadata, index: { ...timesOf(ticks, stream.tick), keyFrames: keys, longestGop } });
}

async function readAndKeep(
  program: Program,
  kept: Kept,
  cacheDir: string,
  signal: AbortSignal,
): Promise<Result<Reading, VideoProblem>> {
  const reading = await readRecording(program, kept, signal);
  if (reading.ok) await keepTable(cacheDir, kept, reading.value.index);
  return reading;
}

/** The stream a browser shows. */
export function pictureOf(streams: readonly Stream[]): Stream | undefined {
  return streams.find(({ kind }) => kind === "video");
}

function timesOf(
  ticks: readonly number[],
  [numerator, denominator]: Stream["tick"],
): Pick<FrameIndex, "times" | "first"> {
  const sorted = Float64Array.from(ticks).sort();
  const [zero = 0] = sorted;
  const seconds = (ticks: number) => (ticks * numerator) / denominator;
  // Two hours hold half a million: a plain loop, since a call for each took 60 ms for every half hour (measured).
  const times = new Float64Array(sorted.length);
  let frames = 0;
  let before = NaN;
  for (const tick of sorted) {
    if (tick !== before) times[frames++] = seconds(tick - zero);
    before = tick;
  }
  return { times: times.slice(0, frames), first: seconds(zero) };
}
