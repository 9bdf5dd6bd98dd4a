// One viewing copy in a folder that others may share: found there, awaited while somebody else makes it, or made.

import { mkdir, readdir, rm } from "node:fs/promises";
import path from "node:path";
import { setTimeout as pause } from "node:timers/promises";
import { failure, type Result, success } from "../bout/result";
import { Claim, hasCode } from "./claim";
import { givenUp } from "./complaint";
import { type CopiedFrames, copiedFrames } from "./copied-frames";
import { type CopyRequest, makeCopy } from "./copy";
import { type FrameIndex, frameTable, identity, pictureOf, readingOf } from "./frame-index";
import { type MakeOptions, type VideoProblem, videoProblem } from "./problem";
import type { Turns } from "./turns";

export interface ViewingCopy {
  /** Full path of an MP4: H.264, and MP3 where there is sound. */
  readonly file: string;
  /** False where it was there already. */
  readonly made: boolean;
  /** Frames of the recording that could not be decoded. */
  readonly missing: number;
  /** The copy's frames on the recording's clock, whose 0 is the recording's first frame. */
  readonly index: FrameIndex;
}

/** How often somebody else's copy is looked for, in milliseconds. */
const lookAgain = 1000;

/** The copy if it is there and whole; undefined if not. */
export async function findCopy(
  file: string,
  target: string,
  options: MakeOptions,
): Promise<Result<ViewingCopy | undefined, VideoProblem>> {
  if (!(await identity(target)).ok) return success(undefined);
  const reading = await readingOf(file, options);
  if (!reading.ok) return reading;
  const { metadata, index } = reading.value;
  const own = await frameTable(target, options);
  if (!own.ok && own.problem.rule !== "recording-unreadable" && own.problem.rule !== "recording-missing")
    return own;
  const copied = own.ok
    ? copiedFrames(index, pictureOf(metadata.streams)?.interlaced ?? false, own.value)
    : undefined;
  if (copied?.ok === true) return success({ ...copyOf(target, copied.value), made: false });
  // Cut short, or changed since it was made.
  await rm(target, { force: true }).catch(() => undefined);
  return success(undefined);
}

/** Finds the copy, or makes it when it is its turn and nobody else is at it. */
export async function findOrMakeCopy(
  request: Omit<CopyRequest, "part">,
  turns: Turns,
  options: MakeOptions & { readonly signal: AbortSignal },
): Promise<Result<ViewingCopy, VideoProblem>> {
  const { file, target, progress } = request;
  const { signal } = options;
  const claim = new Claim(`${target}.lock`);
  progress({ share: 0, secondsLeft: null, state: "waiting" });
  for (;;) {
    if (signal.aborted) return failure(givenUp(signal, file));
    const found = await findCopy(file, target, options);
    if (!found.ok) return found;
    if (found.value !== undefined) return success(found.value);
    const done = await turns.take(signal, () => makeIfFree(request, claim, options));
    if (done !== undefined) return done;
    await pause(lookAgain, undefined, { signal }).catch(() => undefined);
  }
}

/** Undefined where somebody else makes it, or has just made it. */
async function makeIfFree(
  request: Omit<CopyRequest, "part">,
  claim: Claim,
  options: MakeOptions & { readonly signal: AbortSignal },
): Promise<Result<ViewingCopy, VideoProblem> | undefined> {
  const { file, target, progress } = request;
  const { signal } = options;
  if (signal.aborted) return failure(givenUp(signal, file));
  try {
    await mkdir(path.dirname(target), { recursive: true });
    const taken = await claim.take();
    if (taken !== true) {
      progress({ share: taken.share, secondsLeft: null, state: "elsewhere" });
      return undefined;
    }
  } catch (error) {
    return failure(unusable(path.dirname(target), error));
  }
  try {
    if ((await identity(target)).ok) return undefined;
    await removeParts(target);
    const made = await makeCopy(
      {
        ...request,
        part: `${target}.${claim.owner}.part`,
        progress: (now) => {
          claim.share = now.share;
          progress(now);
        },
      },
      options,
    );
    return made.ok ? success({ ...copyOf(target, made.value), made: true }) : made;
  } finally {
    await claim.release();
  }
}

function copyOf(file: string, { index, missing }: CopiedFrames): Omit<ViewingCopy, "made"> {
  return { file, missing, index };
}

/** Left by owners that fell silent. */
async function removeParts(target: string): Promise<void> {
  const folder = path.dirname(target);
  const begun = `${path.basename(target)}.`;
  for (const name of await readdir(folder).catch(() => []))
    if (name.startsWith(begun) && name.endsWith(".part"))
      await rm(path.join(folder, name), { force: true }).catch(() => undefined);
}

function unusable(folder: string, error: unknown): VideoProblem {
  if (hasCode(error, "ENOSPC") || hasCode(error, "EDQUOT"))
    return videoProblem("disk-full", `There is no room left in ${folder}, where viewing copies are kept.`);
  const reason = error instanceof Error ? error.message : String(error);
  return videoProblem("folder-unusable", `Viewing copies can't be kept in ${folder}: ${reason}.`);
}
