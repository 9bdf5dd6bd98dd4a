// Several clips in one file that is small enough to be sent: each encoded for it straight from its recording, then put
// behind each other without encoding again.

import { readFile, stat, writeFile } from "node:fs/promises";
import path from "node:path";
import type { FrameTimes } from "../../bout/frames";
import { failure, type Result, success } from "../../bout/result";
import { givenUp, unmade } from "../complaint";
import { runFfmpeg } from "../ffmpeg";
import { pictureOf } from "../frame-index";
import { type MakeOptions, type VideoProblem, videoProblem } from "../problem";
import { copySize } from "../recipe";
import { lengthOf, reelSoundBits, type ReelSize } from "./cut-options";
import { encodeOnce, marginsOf } from "./one-clip";
import type { ClipPlan } from "./plan";
import { inTurns, programsOf, readyClips, type Turns } from "./ready";

/** Lines of the picture, and frames a second at most: what a phone shows well (common practice, no source). */
const lines = 540;
const mostFrames = 30;
/** Share of the size left for how the file is put together. */
const overhead = 0.06;
/** Bits a second between which a picture of this size is worth seeing and gets no better (common practice, no source). */
const fewestBits = 150_000;
const mostBits = 3_000_000;
/** The encoder keeps to its bits only roughly: tried again with fewer. */
const tries = [1, 0.85, 0.7] as const;

/** A reel made in `folder`. */
export async function reelInto(
  plan: readonly ClipPlan[],
  folder: string,
  megabytes: number,
  options: MakeOptions & Turns,
): Promise<Result<{ readonly file: string; readonly seconds: number }, VideoProblem>> {
  const programs = await programsOf(options);
  if (!programs.ok) return programs;
  const ready = await readyClips(plan, options);
  if (!ready.ok) return ready;
  const { signal } = options;
  const lengths = ready.value.map(({ plan, reading, frames }) => lengthOf(plan, reading, frames));
  const seconds = lengths.reduce((sum, length) => sum + length, 0);
  const bits = Math.min(mostBits, ((1 - overhead) * megabytes * 8e6) / seconds - reelSoundBits);
  if (bits < fewestBits)
    return failure(
      videoProblem(
        "reel-too-long",
        `${seconds.toFixed(0)} s can't be shown in ${megabytes} MB. Pick fewer phrases, or allow at least ${Math.ceil(((fewestBits + reelSoundBits) * seconds) / 8e6 / (1 - overhead))} MB.`,
      ),
    );
  const [first] = ready.value;
  const picture = first === undefined ? undefined : pictureOf(first.reading.metadata.streams);
  const size = copySize(picture ?? { width: 960, height: 540, rotation: 0, pixelShape: 1 }, lines);
  for (const share of tries) {
    const parts = await inTurns(ready.value, options, async (clip, signal, index) => {
      const file = path.join(folder, `${index}-${share}.ts`);
      const before = lengths.slice(0, index).reduce((sum, length) => sum + length, 0);
      const reel: ReelSize = { ...size, rate: rateOf(clip.reading.index.times), bits: bits * share, before };
      const outcome = await encodeOnce(
        clip,
        file,
        programs.value,
        signal,
        marginsOf(clip.reading)[0] ?? null,
        reel,
      );
      if (!outcome.ok) return outcome;
      return outcome.value.done
        ? success(file)
        : failure(unmade("The reel", clip.plan.source, folder, outcome.value));
    });
    if (!parts.ok) return parts;
    const row = path.join(folder, `row-${share}.ts`);
    await joined(parts.value, row);
    const file = path.join(folder, `reel-${share}.mp4`);
    const outcome = await runFfmpeg(programs.value.ffmpeg, {
      file: row,
      options: ["-map", "0:v:0", "-map", "0:a:0", "-c", "copy", "-movflags", "+faststart", "-f", "mp4"],
      output: file,
      signal,
    });
    if (signal.aborted) return failure(givenUp(signal, row));
    if (!outcome.done) return failure(unmade("The reel", row, folder, outcome));
    if ((await stat(file)).size <= megabytes * 1e6) return success({ file, seconds });
  }
  return failure(
    videoProblem(
      "reel-too-long",
      `The reel did not fit into ${megabytes} MB. Pick fewer phrases, or allow more.`,
    ),
  );
}

/** Frames a second of a recording, as most of its frames have it; of faster ones every second, third or so on. */
export function rateOf(times: FrameTimes): number {
  const stays = times.slice(1).map((time, index) => time - (times[index] ?? 0));
  const usual = stays.sort()[Math.floor(stays.length / 2)] ?? 1 / mostFrames;
  // A thousandth more is one of those that were rounded.
  const rate = 1 / usual / Math.ceil(1 / usual / (mostFrames * 1.001));
  return Math.round(Math.max(1, rate) * 1000) / 1000;
}

/** The bytes of several files in a row. */
async function joined(files: readonly string[], target: string): Promise<void> {
  for (const file of files) await writeFile(target, await readFile(file), { flag: "a" });
}
