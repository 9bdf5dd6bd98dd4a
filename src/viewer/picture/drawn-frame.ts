// A frame drawn over the video element until that shows the same one: it is there several times sooner.

import { element } from "../dom";
import type { Aim, FrameGrid } from "./frame-grid";
import { Seeker } from "./seeker";
import type { SingleFrames } from "./single-frames";

export interface DrawnFrameEvents {
  /** The frame of this presentation time, in seconds from the first frame, is drawn. */
  drawn(time: number): void;
  /** This frame can't be drawn: the video element has to show it. */
  refused(to: Aim): void;
}

export class DrawnFrame {
  readonly canvas = element("canvas", { class: "drawn-frame", "aria-hidden": true, hidden: true });
  readonly #events: DrawnFrameEvents;
  readonly #context = this.canvas.getContext("2d", { alpha: false });
  readonly #seeker = new Seeker((aim) => void this.#draw(aim));
  #frames: SingleFrames | undefined;
  /** The first frame's own time in the recording, in seconds. */
  #first = 0;
  #grid: FrameGrid | undefined;
  /** Which wishes still count: those of before `forget` don't. */
  #turn = 0;
  #closed = false;

  constructor(events: DrawnFrameEvents) {
    this.#events = events;
  }

  /** Whether frames can be drawn. */
  get able(): boolean {
    return this.#frames !== undefined;
  }

  /** Whether the drawn frame is what is seen. */
  get covers(): boolean {
    return !this.canvas.hidden;
  }

  /** The frame that is to be drawn; undefined when none is under way. */
  get goal(): Aim | undefined {
    return this.#seeker.goal;
  }

  /** `first` is the first frame's own time in the recording, in seconds. */
  use(frames: SingleFrames, first: number): void {
    if (this.#closed) frames.close();
    else {
      this.#frames = frames;
      this.#first = first;
    }
  }

  /** Draws the frame aimed at; of several asked for in a row the newest. */
  request(to: Aim, grid: FrameGrid): void {
    this.#grid = grid;
    this.#seeker.request(to);
  }

  /** Draws nothing that was asked for. */
  forget(): void {
    this.#turn += 1;
    this.#seeker.forget();
  }

  /** Lets the video element be seen. */
  lift(): void {
    this.canvas.hidden = true;
  }

  close(): void {
    this.#closed = true;
    this.forget();
    this.lift();
    this.#giveUp();
  }

  async #draw(aim: number): Promise<void> {
    const turn = this.#turn;
    const frame = await this.#frames?.at(aim + this.#first).catch(() => {
      // Neither this one nor, most likely, any other.
      this.#giveUp();
      return undefined;
    });
    if (turn !== this.#turn || this.#grid === undefined) {
      frame?.picture.close();
      return;
    }
    if (frame === undefined) {
      const { goal } = this;
      this.forget();
      if (goal !== undefined) this.#events.refused(goal);
      return;
    }
    this.#show(frame.picture);
    const time = frame.time - this.#first;
    this.#seeker.arrived(this.#grid, time);
    this.#events.drawn(time);
  }

  #show(picture: VideoFrame): void {
    const { canvas } = this;
    const { displayWidth, displayHeight } = picture;
    if (canvas.width !== displayWidth) canvas.width = displayWidth;
    if (canvas.height !== displayHeight) canvas.height = displayHeight;
    this.#context?.drawImage(picture, 0, 0);
    picture.close();
    canvas.hidden = false;
  }

  #giveUp(): void {
    this.#frames?.close();
    this.#frames = undefined;
  }
}
