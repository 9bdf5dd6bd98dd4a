// Takes the picture from frame to frame, one seek at a time: while one runs, only the newest wish is kept, so a held
// key never builds up a queue. A seek counts as done when the frame on screen says so.

import { sameFrame, type Aim, type FrameGrid } from "./frame-grid";

export class Seeker {
  readonly #seek: (aim: number) => void;
  #running: { readonly to: Aim; readonly again: boolean } | undefined;
  #wish: Aim | undefined;

  /** `seek` starts a seek to a time in seconds. */
  constructor(seek: (aim: number) => void) {
    this.#seek = seek;
  }

  /** The frame that will be on screen when all is done; undefined when nothing is under way. */
  get goal(): Aim | undefined {
    return this.#wish ?? this.#running?.to;
  }

  /** Whether the seek under way aims at the frame of this time. */
  reached(grid: FrameGrid, time: number): boolean {
    return this.#running !== undefined && sameFrame(grid, this.#running.to.time, time);
  }

  request(to: Aim): void {
    if (this.#running === undefined) this.#start(to, false);
    else this.#wish = to;
  }

  /** A seek has come to its end with the frame of this time on screen. */
  arrived(grid: FrameGrid, time: number): void {
    const running = this.#running;
    const wish = this.#wish;
    this.#running = undefined;
    this.#wish = undefined;
    if (wish !== undefined && !sameFrame(grid, wish.time, time)) this.#start(wish, false);
    else if (
      wish === undefined &&
      running?.again === false &&
      grid.known &&
      !sameFrame(grid, running.to.time, time)
    )
      // The wrong frame came: aim once more, as far off as it was.
      this.#start({ time: running.to.time, aim: Math.max(0, running.to.aim + running.to.time - time) }, true);
  }

  forget(): void {
    this.#running = undefined;
    this.#wish = undefined;
  }

  #start(to: Aim, again: boolean): void {
    this.#running = { to, again };
    this.#seek(to.aim);
  }
}
