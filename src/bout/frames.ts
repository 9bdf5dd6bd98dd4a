// Which frame a written time means, and where to aim a seek so that this frame is the one shown.

import type { Milliseconds } from "./time";

/** Presentation times in seconds, rising, the first frame at 0. */
export type FrameTimes = Float64Array;

/** Index of the frame whose presentation time is nearest to `seconds`; the earlier of two equally near. -1 without frames. */
export function nearestFrame(times: FrameTimes, seconds: number): number {
  if (times.length === 0) return -1;
  const after = firstAtOrAfter(times, seconds);
  if (after === 0) return 0;
  if (after === times.length) return times.length - 1;
  const left = times[after - 1] ?? 0;
  const right = times[after] ?? 0;
  return seconds - left <= right - seconds ? after - 1 : after;
}

/** Index of the frame a written time means. */
export function frameAt(times: FrameTimes, time: Milliseconds): number {
  return nearestFrame(times, time / 1000);
}

/** Seconds half-way between a frame and the next: aiming a seek there shows this frame, whatever the rounding.
 * The last frame borrows the gap before it. */
export function seekTarget(times: FrameTimes, index: number): number {
  const own = times[index];
  if (own === undefined) return 0;
  const next = times[index + 1];
  if (next !== undefined) return (own + next) / 2;
  const previous = times[index - 1];
  return previous === undefined ? own : own + (own - previous) / 2;
}

function firstAtOrAfter(times: FrameTimes, seconds: number): number {
  let low = 0;
  let high = times.length;
  while (low < high) {
    const middle = (low + high) >>> 1;
    if ((times[middle] ?? Infinity) < seconds) low = middle + 1;
    else high = middle;
  }
  return low;
}
