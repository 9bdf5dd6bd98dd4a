// Cuts clips out of recordings, exact to the frame at both ends. Each is decoded from a key frame before it, and kept only
// if it has just the frames that were asked for; all of them get their names at the end, or none does.

import { mkdir, mkdtemp, readFile, rename, rm, stat, writeFile } from "node:fs/promises";
import path from "node:path";
import { existsSync } from "node:fs";
import { failure, type Result, success } from "../../bout/result";
import { givenUp, unmade } from "../complaint";
import { type Outcome, runFfmpeg } from "../ffmpeg";
import { fingerprint } from "../fingerprint";
import { identity, patience, pictureOf, readingOf, readRecording, type Reading } from "../frame-index";
import { type MakeOptions, type VideoProblem, videoProblem } from "../problem";
import { unlessStuck, within } from "../process";
import { findProgram, type Program } from "../programs";
import { textSource } from "./burn-in";
import { webVtt } from "./captions";
import { startsOnKeyFrame } from "./key-frame";
import {
  encodeOptions,
  type Frames,
  lengthOf,
  type ReelSize,
  seekOptions,
  takeOverOptions,
} from "./cut-options";
import type { ClipPlan, ClipsManifest, ClipsProgress, CutClip } from "./plan";
import { framesOf, nameProblem } from "./read-plan";

export interface CutOptions extends MakeOptions {
  /** Where the clips go; made if missing. */
  readonly folder: string;
  /** Takes the place of files that are there. */
  readonly force?: boolean | undefined;
  /** Cut at the same time (2): a clip is short, and starting and checking leave a core idle. */
  readonly jobs?: number | undefined;
  /** Also written, as `clips.json`, unless false. */
  readonly manifest?: boolean | undefined;
  readonly progress?: ((progress: ClipsProgress) => void) | undefined;
}

export const manifestName = "clips.json";

/** A clip that can be cut: its recording read, its frames known. */
interface Ready {
  readonly plan: ClipPlan;
  readonly reading: Reading;
  readonly frames: Frames;
  readonly fingerprint: string;
}

interface Programs {
  readonly ffmpeg: Program;
  readonly ffprobe: Program;
}

/** Cuts the clips into `folder`. Nothing is left there after a failure or a cancelling that was not there before. */
export async function cutClips(
  plan: readonly ClipPlan[],
  options: CutOptions,
): Promise<Result<ClipsManifest, VideoProblem>> {
  const { folder, force = false, manifest: told = true } = options;
  const names = plan.flatMap(({ name, captions }) => [`${name}.mp4`, ...(captions ? [`${name}.vtt`] : [])]);
  const wrong =
    plan.length === 0
      ? videoProblem("clips-none", "There is nothing to cut.")
      : nameProblem(plan.map(({ name }) => name));
  if (wrong !== undefined) return failure(wrong);
  const all = told ? [...names, manifestName] : names;
  const there = force ? undefined : all.find((name) => existsSync(path.join(folder, name)));
  if (there !== undefined)
    return failure(videoProblem("file-exists", `${path.join(folder, there)} is there already.`));
  return inWorkFolder(folder, options.signal, async (work, signal) => {
    const made = await cutInto(plan, work, { ...options, signal });
    if (!made.ok) return made;
    if (told) await writeFile(path.join(work, manifestName), `${JSON.stringify(made.value, undefined, 2)}\n`);
    for (const name of all) await rename(path.join(work, name), path.join(folder, name));
    return made;
  });
}

/** One file of all clips in a row, small enough to be sent: at most so many megabytes (of a million bytes). */
export async function cutReel(
  plan: readonly ClipPlan[],
  file: string,
  megabytes: number,
  options: Omit<CutOptions, "folder" | "manifest">,
): Promise<Result<{ readonly bytes: number; readonly seconds: number }, VideoProblem>> {
  if (plan.length === 0) return failure(videoProblem("clips-none", "There is nothing to cut."));
  if (options.force !== true && existsSync(file))
    return failure(videoProblem("file-exists", `${file} is there already.`));
  return inWorkFolder(path.dirname(file), options.signal, async (work, signal) => {
    const { reelInto } = await import("./reel");
    const made = await reelInto(plan, work, megabytes, { ...options, signal });
    if (!made.ok) return made;
    await rename(made.value.file, file);
    return success({ bytes: (await stat(file)).size, seconds: made.value.seconds });
  });
}

/** Does the work in a folder of its own beside where its files will go, which is gone afterwards. */
async function inWorkFolder<T>(
  folder: string,
  signal: AbortSignal | undefined,
  work: (folder: string, signal: AbortSignal) => Promise<Result<T, VideoProblem>>,
): Promise<Result<T, VideoProblem>> {
  const fresh = !existsSync(folder);
  let own: string | undefined;
  let done = false;
  try {
    await mkdir(folder, { recursive: true });
    own = await mkdtemp(path.join(folder, ".clips-part-"));
    const result = await work(own, signal ?? new AbortController().signal);
    done = result.ok;
    return result;
  } catch (error) {
    const reason = error instanceof Error ? error.message : String(error);
    return failure(videoProblem("folder-unusable", `${folder} can't be written: ${reason}.`));
  } finally {
    if (own !== undefined) await rm(own, { recursive: true, force: true }).catch(() => undefined);
    if (fresh && !done) await rm(folder, { recursive: true, force: true }).catch(() => undefined);
  }
}

async function cutInto(
  plan: readonly ClipPlan[],
  folder: string,
  options: Omit<CutOptions, "folder"> & { readonly signal: AbortSignal },
): Promise<Result<ClipsManifest, VideoProblem>> {
  const programs = await programsOf(options);
  if (!programs.ok) return programs;
  const ready = await readyClips(plan, options);
  if (!ready.ok) return ready;
  const made = await inTurns(ready.value, options, (clip, signal) =>
    cutOne(clip, folder, programs.value, signal),
  );
  return made.ok ? success({ clips: 1, ffmpeg: programs.value.ffmpeg.version, made: made.value }) : made;
}

export async function programsOf(options: MakeOptions): Promise<Result<Programs, VideoProblem>> {
  const ffmpeg = await findProgram("ffmpeg", options.ffmpegPath);
  if (!ffmpeg.ok) return ffmpeg;
  const ffprobe = await findProgram("ffprobe", options.ffprobePath);
  return ffprobe.ok ? success({ ffmpeg: ffmpeg.value, ffprobe: ffprobe.value }) : ffprobe;
}

/** Each recording read once; refuses the whole plan for one clip that can't be cut. */
export async function readyClips(
  plan: readonly ClipPlan[],
  options: MakeOptions,
): Promise<Result<readonly Ready[], VideoProblem>> {
  const read = new Map<string, { readonly reading: Reading; readonly fingerprint: string }>();
  const ready: Ready[] = [];
  for (const one of plan) {
    let known = read.get(one.source);
    if (known === undefined) {
      const reading = await readingOf(one.source, options);
      if (!reading.ok) return reading;
      known = { reading: reading.value, fingerprint: await fingerprint(one.source) };
      read.set(one.source, known);
    }
    const frames = framesOf(one, known.reading);
    if (!frames.ok) return frames;
    ready.push({ plan: one, ...known, frames: frames.value });
  }
  return success(ready);
}

/** Some at a time, in order; the first that fails ends the others. */
export async function inTurns<T>(
  ready: readonly Ready[],
  { jobs = 2, progress, signal }: Pick<CutOptions, "jobs" | "progress"> & { readonly signal: AbortSignal },
  work: (clip: Ready, signal: AbortSignal, index: number) => Promise<Result<T, VideoProblem>>,
): Promise<Result<T[], VideoProblem>> {
  const stop = new AbortController();
  const cancel = () => stop.abort();
  signal.addEventListener("abort", cancel, { once: true });
  if (signal.aborted) cancel();
  const made: T[] = [];
  let [next, done] = [0, 0];
  let problem: VideoProblem | undefined;
  const worker = async () => {
    for (;;) {
      const index = next++;
      const clip = ready[index];
      if (clip === undefined || problem !== undefined) return;
      const result = await work(clip, stop.signal, index);
      if (result.ok) {
        made[index] = result.value;
        progress?.({ done: ++done, of: ready.length });
      } else {
        problem ??= result.problem;
        stop.abort();
      }
    }
  };
  await Promise.all(Array.from({ length: Math.max(1, jobs) }, worker));
  signal.removeEventListener("abort", cancel);
  return problem === undefined ? success(made) : failure(problem);
}

async function cutOne(
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
  const kept = await identity(file);
  if (!kept.ok) return kept.problem.message;
  const own = await within(patience(kept.value), signal, (signal) =>
    readRecording(ffprobe, kept.value, signal),
  );
  if (!own.ok) return own.problem.message;
  const { times } = reading.index;
  const zero = times[frames.first] ?? 0;
  const moving = times.subarray(frames.first, (frames.freeze ?? frames.last) + 1);
  const found = own.value.index.times;
  const fields = pictureOf(reading.metadata.streams)?.interlaced === true && found.length < moving.length;
  const longer = frames.freeze !== undefined || frames.repeat !== undefined;
  if (!fields && (longer ? found.length < moving.length : found.length !== moving.length))
    return `it has ${found.length} frames in the place of ${moving.length}`;
  if (fields) return undefined;
  const late = moving.findIndex((time, index) => Math.abs(time - zero - (found[index] ?? Infinity)) > 0.0015);
  return late === -1 ? undefined : `frame ${late + 1} of ${plan.name} has another time`;
}

/** The bytes of several files in a row. */
export async function joined(files: readonly string[], target: string): Promise<void> {
  for (const file of files) await writeFile(target, await readFile(file), { flag: "a" });
}
