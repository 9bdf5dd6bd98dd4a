// A clock for a bout without a picture: it runs, steps and can be set, so that notes get their times all the same.

import type { Milliseconds } from "../../bout/time";
import type { Clock } from "./clock";

/** One step, in milliseconds. */
const step = 40;

export class HandClock implements Clock {
  readonly frame = step;
  readonly number = undefined;
  readonly end = undefined;
  readonly #changed: () => void;
  readonly #now: () => number;
  #at: number;
  #speed = 1;
  #started: number | undefined;

  /** `changed` is called whenever the time moved; while it runs, `tick` must be called for each picture drawn. */
  constructor(changed: () => void, at = 0, now: () => number = () => performance.now()) {
    this.#changed = changed;
    this.#at = at;
    this.#now = now;
  }

  get at(): Milliseconds {
    const run = this.#started === undefined ? 0 : (this.#now() - this.#started) * this.#speed;
    return Math.max(0, Math.round(this.#at + run)) as Milliseconds;
  }

  get playing(): boolean {
    return this.#started !== undefined;
  }

  play(): void {
    this.#started ??= this.#now();
    this.#changed();
  }

  pause(): void {
    this.#at = this.at;
    this.#started = undefined;
    this.#changed();
  }

  show(at: number): void {
    this.#at = Math.max(0, at);
    if (this.#started !== undefined) this.#started = this.#now();
    this.#changed();
  }

  step(frames: number): void {
    this.pause();
    this.show(this.at + frames * step);
  }

  beside(at: number, frames: number): Milliseconds {
    return Math.max(0, Math.round(at + frames * step)) as Milliseconds;
  }

  setSpeed(speed: number): void {
    this.#at = this.at;
    if (this.#started !== undefined) this.#started = this.#now();
    this.#speed = speed;
  }

  tick(): void {
    if (this.playing) this.#changed();
  }
}
