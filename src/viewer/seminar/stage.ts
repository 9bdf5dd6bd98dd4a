// The clip on the page, without the browser's own controls: those would let a reader go back. A showing runs from the
// clip's first frame to its last, where the picture then stands.

import { element, setText } from "../dom";

/** As live nothing can be held or slowed. */
export interface StageOptions {
  readonly live: boolean;
  readonly onEnd: () => void;
  readonly onBroken: () => void;
}

export const speeds = [0.1, 0.25, 0.5, 1] as const;
/** Seconds one step forward takes where the browser doesn't tell frames: one frame at 25 a second. */
const oneFrame = 0.04;

export class Stage {
  readonly element: HTMLElement;
  readonly #video: HTMLVideoElement;
  readonly #note = element("p", { class: "stage-note" });
  readonly #options: StageOptions;
  #running = false;

  constructor(file: string, options: StageOptions) {
    this.#options = options;
    this.#video = element("video", { src: file, preload: "auto", playsinline: true, tabindex: "-1" });
    this.#video.disablePictureInPicture = true;
    // The menu of the browser's own would offer controls.
    this.#video.addEventListener("contextmenu", (event) => event.preventDefault());
    this.#video.addEventListener("ended", () => {
      this.#running = false;
      options.onEnd();
    });
    this.#video.addEventListener("error", () => options.onBroken());
    this.element = element("div", { class: "stage" }, this.#video, this.#note);
  }

  get running(): boolean {
    return this.#running;
  }
  get paused(): boolean {
    return this.#video.paused;
  }

  describe(label: string, note: string): void {
    this.#video.setAttribute("aria-label", label);
    setText(this.#note, note);
  }

  /** One showing; false where the browser can't play it. */
  async show(speed: number): Promise<boolean> {
    this.#video.currentTime = 0;
    this.#video.defaultPlaybackRate = speed;
    this.#video.playbackRate = speed;
    try {
      await this.#video.play();
    } catch {
      return false;
    }
    this.#running = true;
    return true;
  }
  set speed(speed: number) {
    if (!this.#options.live) this.#video.playbackRate = speed;
  }
  toggle(): void {
    if (this.#options.live || !this.#running) return;
    if (this.#video.paused) void this.#video.play();
    else this.#video.pause();
  }
  /** Only ever forwards: a look back is another showing. */
  step(): void {
    if (this.#options.live || !this.#running) return;
    this.#video.pause();
    const next = this.#video.currentTime + oneFrame;
    if (next < this.#video.duration) this.#video.currentTime = next;
    else void this.#video.play();
  }
  stop(): void {
    this.#running = false;
    this.#video.pause();
    this.#video.removeAttribute("src");
    this.#video.load();
  }
}
