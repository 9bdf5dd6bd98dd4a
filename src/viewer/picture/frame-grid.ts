// Which frames does a recording have? Known one by one from its table of presentation times, or, while there is none,
// estimated from the times of the frames shown.

import { nearestFrame, seekTarget, type FrameTimes } from "../../bout/frames";

/** A frame to show: its presentation time and where to aim the seek, both in seconds of its own recording. */
export interface Aim {
  readonly time: number;
  readonly aim: number;
}

export type FrameGrid =
  | { readonly known: true; readonly times: FrameTimes }
  /** `frame` is how long one frame lasts, in seconds. */
  | { readonly known: false; readonly frame: number; readonly duration: number };

/** Where to seek to see the frame nearest to `seconds`. */
export function aimAt(grid: FrameGrid, seconds: number): Aim {
  if (grid.known) return aimAtIndex(grid.times, nearestFrame(grid.times, seconds));
  const time = Math.min(Math.max(0, seconds), Math.max(0, grid.duration - grid.frame));
  return { time, aim: time + grid.frame / 2 };
}

/** Where to seek to see the frame `frames` after the one at `seconds`; the first or last frame beyond either end. */
export function aimBeside(grid: FrameGrid, seconds: number, frames: number): Aim {
  if (!grid.known) return aimAt(grid, seconds + frames * grid.frame);
  const index = nearestFrame(grid.times, seconds) + frames;
  return aimAtIndex(grid.times, Math.min(Math.max(0, index), grid.times.length - 1));
}

/** Seconds the frame at `seconds` lasts. */
export function lasts(grid: FrameGrid, seconds: number): number {
  if (!grid.known) return grid.frame;
  const { times } = grid;
  const index = nearestFrame(times, seconds);
  const own = times[index] ?? 0;
  const gap = (times[index + 1] ?? own) - own;
  return gap > 0 ? gap : own - (times[index - 1] ?? own - 0.04);
}

/** Whether two times mean the same frame. */
export function sameFrame(grid: FrameGrid, one: number, other: number): boolean {
  return grid.known
    ? nearestFrame(grid.times, one) === nearestFrame(grid.times, other)
    : Math.abs(one - other) < grid.frame / 2;
}

/** The table as the media server sends it: 64-bit floats, little endian. Undefined where it holds no frame. */
export function readFrameTimes(bytes: ArrayBuffer): FrameTimes | undefined {
  const view = new DataView(bytes);
  const times = new Float64Array(Math.floor(bytes.byteLength / 8));
  for (let index = 0; index < times.length; index += 1) times[index] = view.getFloat64(index * 8, true);
  return times.length === 0 ? undefined : times;
}

/** Estimates how long a frame lasts from the times of frames shown one after another: their median distance. */
export class FrameEstimate {
  #gaps: number[] = [];
  #last: { readonly time: number; readonly count: number } | undefined;

  /** Takes a frame's time in seconds and its number among all frames presented. */
  shown(time: number, count: number): void {
    const gap = this.#last === undefined ? 0 : time - this.#last.time;
    if (count - (this.#last?.count ?? 0) === 1 && gap > 0.002 && gap < 0.2)
      this.#gaps = [...this.#gaps.slice(-40), gap];
    this.#last = { time, count };
  }

  /** Seconds; 0.04 until frames have been seen. */
  get frame(): number {
    const sorted = this.#gaps.toSorted((a, b) => a - b);
    return sorted[Math.floor(sorted.length / 2)] ?? 0.04;
  }
}

function aimAtIndex(times: FrameTimes, index: number): Aim {
  return { time: times[index] ?? 0, aim: seekTarget(times, index) };
}
