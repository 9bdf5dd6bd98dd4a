// One clip: the recording's own pictures taken over where they can be the clip, else decoded from a key frame before it
// and encoded; kept only if it has just the frames that were asked for.

import { rm, writeFile } from "node:fs/promises";
import path from "node:path";
import type { FrameTimes } from "../../bout/frames";
import { failure, type Result, success } from "../../bout/result";
import { givenUp, unmade } from "../complaint";
import { type Outcome, runFfmpeg } from "../ffmpeg";
import { identity, patience, pictureOf, type Reading, readRecording } from "../frame-index";
import { type VideoProblem, videoProblem } from "../problem";
import { unlessStuck, within } from "../process";
import type { Program } from "../programs";
import { textSource } from "./burn-in";
import { webVtt } from "./captions";
import { encodeOptions, lengthOf, type ReelSize, seekOptions, takeOverOptions } from "./cut-options";
import { startsOnKeyFrame } from "./key-frame";
import type { CutClip } from "./plan";
import type { Programs, Ready } from "./ready";
import { writtenFrames } from "./written-frames";

/** Cuts a clip, and its captions, into `folder`. */
export async function cutOne(
  { plan, reading, frames, fingerprint }: Ready,
  folder: string,
  programs: Programs,
  signal: AbortSignal,
): Promise<Result<CutClip, VideoProblem>> {
  const file = path.join(folder, `${plan.name}.mp4`);
  const clip = { plan, reading, frames, fingerprint };
  const copied =
    (await canTakeOver(clip, programs.ffprobe, signal)) && (await takenOver(clip, file, programs, signal));
  if (!copied) {
    const cut = await encode(clip, file, programs, signal);
    if (!cut.ok) return cut;
  }
  const { index } = reading;
  const [from = 0, to = 0] = [index.times[frames.first], index.times[frames.last]];
  const duration = lengthOf(plan, reading, frames);
  if (plan.captions !== undefined)
    await writeFile(path.join(folder, `${plan.name}.vtt`), webVtt(plan.captions, from, duration));
  const { freezeAt, muteFrom, boxes, slowRepeat, burnIn } = plan;
  return success({
    file: `${plan.name}.mp4`,
    captions: plan.captions === undefined ? null : `${plan.name}.vtt`,
    cues: plan.captions ?? null,
    source: path.basename(plan.source),
    fingerprint,
    frames: { from: frames.first, to: frames.last },
    seconds: { from, to },
    duration,
    way: copied ? "copied" : "encoded",
    options: { freezeAt, muteFrom, boxes, slowRepeat, burnIn },
    evidence: plan.evidence ?? null,
  });
}

/** Whether the recording's own pictures could be the clip: nothing is changed, and it begins on a key frame. */
async function canTakeOver(
  { plan, reading, frames }: Ready,
  ffprobe: Program,
  signal: AbortSignal,
): Promise<boolean> {
  const { metadata, index } = reading;
  const picture = pictureOf(metadata.streams);
  const changed = [plan.freezeAt, plan.muteFrom, plan.slowRepeat, plan.burnIn, plan.boxes?.[0]];
  return (
    picture !== undefined &&
    // Sound in packets of its own can't begin with the picture, so it would have to be made anew.
    !metadata.streams.some(({ kind }) => kind === "audio") &&
    picture.codec === "h264" &&
    !picture.interlaced &&
    picture.rotation === 0 &&
    changed.every((part) => part === undefined) &&
    (await startsOnKeyFrame(ffprobe, plan.source, index, frames.first, picture.tick, signal))
  );
}

/** False where the frames taken over are not the ones wanted; then they are encoded. */
async function takenOver(
  clip: Ready,
  file: string,
  programs: Programs,
  signal: AbortSignal,
): Promise<boolean> {
  const { plan, reading, frames } = clip;
  const at = reading.index.first + (reading.index.times[frames.first] ?? 0);
  const outcome = await runFfmpeg(programs.ffmpeg, {
    file: plan.source,
    before: frames.first === 0 ? [] : ["-seek_timestamp", "1", "-ss", at.toFixed(6)],
    options: takeOverOptions(reading, frames),
    output: file,
    signal,
  });
  return outcome.done && (await differenceOf(clip, file, programs.ffprobe, signal)) === undefined;
}

/** Seconds before a clip where decoding begins at the latest; the next is tried where frames were missing. A transport
 * stream is sought by bytes, not by key frames, so there the margin itself must hold one. Null: from the beginning. */
export function marginsOf({ metadata, index }: Reading): readonly (number | null)[] {
  if (!metadata.formats.includes("mpegts")) return [1, 15, null];
  const { times, longestGop } = index;
  const average = (times.at(-1) ?? 0) / Math.max(1, times.length - 1);
  return [1 + 2 * longestGop * average, null];
}

async function encode(
  clip: Ready,
  file: string,
  programs: Programs,
  signal: AbortSignal,
): Promise<Result<undefined, VideoProblem>> {
  let differs = "";
  for (const margin of marginsOf(clip.reading)) {
    await rm(file, { force: true });
    const outcome = await encodeOnce(clip, file, programs, signal, margin);
    if (!outcome.ok) return outcome;
    const difference = outcome.value.done
      ? await differenceOf(clip, file, programs.ffprobe, signal)
      : undefined;
    if (signal.aborted) return failure(givenUp(signal, clip.plan.source));
    if (!outcome.value.done)
      return failure(
        unmade(
          `The clip ${clip.plan.name}`,
          clip.plan.source,
          path.dirname(path.dirname(file)),
          outcome.value,
        ),
      );
    if (difference === undefined) return success(undefined);
    differs = difference;
  }
  return failure(
    videoProblem(
      "clip-differs",
      `${clip.plan.name} could not be cut to the frame out of ${clip.plan.source}: ${differs}.`,
    ),
  );
}

/** Under a reel's settings where it is given. */
export async function encodeOnce(
  { plan, reading, frames }: Ready,
  file: string,
  { ffmpeg }: Programs,
  signal: AbortSignal,
  margin: number | null,
  reel?: ReelSize,
): Promise<Result<Outcome, VideoProblem>> {
  const before = await identity(plan.source);
  if (!before.ok) return before;
  const font = plan.burnIn === undefined ? undefined : await textSource(plan.burnIn, `${file}.txt`);
  if (font?.ok === false) return font;
  const outcome = await unlessStuck(signal, (signal, alive) =>
    runFfmpeg(ffmpeg, {
      file: plan.source,
      before: seekOptions(reading, frames, margin),
      options: encodeOptions(plan, reading, frames, ffmpeg, font?.value, reel),
      output: file,
      signal,
      reached: alive,
    }),
  );
  if (signal.aborted) return failure(givenUp(signal, plan.source));
  const after = await identity(plan.source);
  if (!after.ok) return after;
  if (after.value.size !== before.value.size || after.value.modified !== before.value.modified)
    return failure(videoProblem("recording-changed", `${plan.source} changed while it was being cut.`));
  return success(outcome);
}

/** In what the clip's frames differ from those asked for; undefined where they are the same, at the same times. */
async function differenceOf(
  { plan, reading, frames }: Ready,
  file: string,
  ffprobe: Program,
  signal: AbortSignal,
): Promise<string | undefined> {
  const found = await framesIn(file, ffprobe, signal);
  if (!found.ok) return found.problem.message;
  const { times } = reading.index;
  const zero = times[frames.first] ?? 0;
  const moving = times.subarray(frames.first, (frames.freeze ?? frames.last) + 1);
  const fields =
    pictureOf(reading.metadata.streams)?.interlaced === true && found.value.length < moving.length;
  const longer = frames.freeze !== undefined || frames.repeat !== undefined;
  if (!fields && (longer ? found.value.length < moving.length : found.value.length !== moving.length))
    return `it has ${found.value.length} frames in the place of ${moving.length}`;
  if (fields) return undefined;
  const late = moving.findIndex(
    (time, index) => Math.abs(time - zero - (found.value[index] ?? Infinity)) > 0.0015,
  );
  return late === -1 ? undefined : `frame ${late + 1} of ${plan.name} has another time`;
}

/** When the frames of a clip appear, in seconds; asked of ffprobe where its own tables are not plain enough. */
async function framesIn(
  file: string,
  ffprobe: Program,
  signal: AbortSignal,
): Promise<Result<FrameTimes, VideoProblem>> {
  const kept = await identity(file);
  if (!kept.ok) return kept;
  const written = await writtenFrames(file);
  if (written !== undefined) return success(written);
  const read = await within(patience(kept.value), signal, (signal) =>
    readRecording(ffprobe, kept.value, signal),
  );
  return read.ok ? success(read.value.index.times) : read;
}
