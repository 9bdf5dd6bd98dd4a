// Cuts clips out of recordings, exact to the frame at both ends. All of them get their names at the end, or none does.

import { existsSync } from "node:fs";
import { mkdir, mkdtemp, rename, rm, rmdir, stat, writeFile } from "node:fs/promises";
import path from "node:path";
import { failure, type Result, success } from "../../bout/result";
import { type MakeOptions, type VideoProblem, videoProblem } from "../problem";
import { cutOne } from "./one-clip";
import type { ClipPlan, ClipsManifest } from "./plan";
import { nameProblem } from "./read-plan";
import { inTurns, programsOf, readyClips, type Turns } from "./ready";

export interface CutOptions extends MakeOptions, Omit<Turns, "signal"> {
  /** Where the clips go; made if missing. */
  readonly folder: string;
  /** Takes the place of files that are there. */
  readonly force?: boolean | undefined;
  /** Also written, as `clips.json`, unless false. */
  readonly manifest?: boolean | undefined;
}

export const manifestName = "clips.json";

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
    await moved(all, work, folder, force);
    return made;
  });
}

/** Gives the files their places: all of them, or none where they took the place of nothing. */
async function moved(names: readonly string[], from: string, to: string, force: boolean): Promise<void> {
  const there: string[] = [];
  try {
    for (const name of names) {
      await rename(path.join(from, name), path.join(to, name));
      there.push(path.join(to, name));
    }
  } catch (error) {
    if (!force) await Promise.all(there.map((file) => rm(file, { force: true })));
    throw error;
  }
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
    // Somebody else may have put something there meanwhile.
    if (fresh && !done) await rmdir(folder).catch(() => undefined);
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
