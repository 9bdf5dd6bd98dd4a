// From a plan to clips that can be cut: recordings read once, frames known, programs found; and the work on them, some at a
// time.

import { type Result, success, failure } from "../../bout/result";
import { fingerprint } from "../fingerprint";
import { type Reading, readingOf } from "../frame-index";
import type { MakeOptions, VideoProblem } from "../problem";
import { findProgram, type Program } from "../programs";
import type { Frames } from "./cut-options";
import type { ClipPlan, ClipsProgress } from "./plan";
import { framesOf } from "./read-plan";

/** A clip that can be cut: its recording read, its frames known. */
export interface Ready {
  readonly plan: ClipPlan;
  readonly reading: Reading;
  readonly frames: Frames;
  readonly fingerprint: string;
}

export interface Programs {
  readonly ffmpeg: Program;
  readonly ffprobe: Program;
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

export interface Turns {
  /** At the same time (2): a clip is short, and starting and checking leave a core idle. */
  readonly jobs?: number | undefined;
  readonly progress?: ((progress: ClipsProgress) => void) | undefined;
  readonly signal: AbortSignal;
}

/** Some at a time, in order; the first that fails ends the others. */
export async function inTurns<T>(
  ready: readonly Ready[],
  { jobs = 2, progress, signal }: Turns,
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
