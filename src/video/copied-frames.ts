// Does a copy show the same frames at the same times as its recording?

import { failure, type Result, success } from "../bout/result";
import type { FrameIndex } from "./frame-index";

/** Seconds. */
const tolerance = 0.001;
/** Share of a recording's frames that may be beyond decoding; a copy with fewer would mislead. */
const mostMissing = 0.1;

export interface CopiedFrames {
  /** Of the copy, on the recording's clock: 0 is the recording's first frame. */
  readonly index: FrameIndex;
  /** Frames of the recording that are not in the copy: damaged, or stored before anything they could be decoded from. */
  readonly missing: number;
}

/**
 * Finds the recording's frame for each frame of the copy, in which 0 is the time of the recording's first. The failure is
 * the reason why the copy can't stand for the recording.
 */
export function copiedFrames(
  recording: FrameIndex,
  interlaced: boolean,
  copy: FrameIndex,
): Result<CopiedFrames, string> {
  const { keyFrames, longestGop } = copy;
  const matched = sameFrames(recording, copy) ?? framesAmong(recording, copy);
  if (typeof matched === "string") return failure(matched);
  const missing = recording.times.length - matched.length;
  // A recording may store an interlaced frame as two fields, a packet each.
  const fields = interlaced && Math.abs(recording.times.length - 2 * matched.length) <= 2;
  if (!fields && missing > mostMissing * recording.times.length)
    return failure(
      `only ${matched.length} of ${recording.times.length} frames could be decoded, so it may be damaged`,
    );
  const first = copy.first - (matched[0] ?? 0);
  return success({ index: { times: matched, first, keyFrames, longestGop }, missing: fields ? 0 : missing });
}

/** The recording's times, where the copy has as many, as far from the first as there. */
function sameFrames({ times }: FrameIndex, copy: FrameIndex): Float64Array | undefined {
  const same =
    copy.times.length === times.length &&
    copy.times.every((time, index) => Math.abs(time - (times[index] ?? Infinity)) <= tolerance);
  return same ? times : undefined;
}

/** The recording's times at which the copy has frames, or a reason. */
function framesAmong({ times }: FrameIndex, copy: FrameIndex): Float64Array | string {
  const matched = new Float64Array(copy.times.length);
  let next = 0;
  for (const [index, time] of copy.times.entries()) {
    const wanted = copy.first + time;
    while (next < times.length && (times[next] ?? Infinity) < wanted - tolerance) next += 1;
    const own = times[next] ?? Infinity;
    if (own > wanted + tolerance)
      return `frame ${index + 1} of the copy, at ${wanted.toFixed(3)} s, has no frame of the recording at its time`;
    matched[index] = own;
    next += 1;
  }
  return matched;
}
