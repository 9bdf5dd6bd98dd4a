// What tells the time at the playhead: a recording, or, where there is none to see, a clock set by hand.

import type { Milliseconds } from "../../bout/time";

export interface Clock {
  /** Presentation time of the frame on screen, in the time of the first recording. */
  readonly at: Milliseconds;
  /** Milliseconds the frame on screen lasts. */
  readonly frame: number;
  /** Number of the frame on screen, from 0; undefined where frames are not known one by one. */
  readonly number: number | undefined;
  /** Time of the last frame; undefined where there is no end. */
  readonly end: Milliseconds | undefined;
  readonly playing: boolean;
  play(): void;
  pause(): void;
  /** Shows the frame whose time is nearest. */
  show(at: number): void;
  /** Shows the frame so many further on; steps asked for in a row add up. */
  step(frames: number): void;
  /** Time of the frame so many after the one at `at`. */
  beside(at: number, frames: number): Milliseconds;
  setSpeed(speed: number): void;
}

export const speeds: readonly number[] = [0.1, 0.25, 0.5, 0.75, 1, 1.5, 2, 3, 4];

/** The next speed up or down; the same at either end. */
export function nextSpeed(speed: number, direction: -1 | 1): number {
  return (direction > 0 ? speeds.find((one) => one > speed) : speeds.findLast((one) => one < speed)) ?? speed;
}
