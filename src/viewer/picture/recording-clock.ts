// A recording on screen. Which frame is shown is what `requestVideoFrameCallback` says, never `currentTime`; a frame is
// sought by aiming half-way between its time and the next one's.

import { nearestFrame, type FrameTimes } from "../../bout/frames";
import { fromSeconds, type Milliseconds } from "../../bout/time";
import type { Clock } from "./clock";
import { aimAt, aimBeside, FrameEstimate, lasts, type FrameGrid } from "./frame-grid";
import { Seeker } from "./seeker";

export interface RecordingEvents {
  /** Another frame, or playing and pausing. */
  changed(): void;
  /** The size of the picture is known. */
  sized(): void;
  unplayable(reason: string): void;
  /** It plays; whether any sound came out of it can only be told by what was decoded. */
  plays(sound: boolean): void;
  /** Playing with sound was refused; it plays without. */
  muted(): void;
}

/** How long after a seek its frame may take to be reported before the picture is believed to be still. Milliseconds. */
const frameWait = 250;
/** How long after it can play its sound may take to be decoded. Milliseconds. */
const soundWait = 1500;

export class RecordingClock implements Clock {
  readonly video: HTMLVideoElement;
  /** Whether it can be seen, once the place it was opened at is on screen. */
  readonly opened: Promise<boolean>;
  readonly #events: RecordingEvents;
  /** Seconds to add to this recording's time to get time in the first one. */
  readonly #offset: number;
  readonly #estimate = new FrameEstimate();
  readonly #seeker = new Seeker((aim) => {
    this.#seekTo(aim);
  });
  #times: FrameTimes | undefined;
  /** Media time of the first frame, which some recordings start at instead of 0. */
  #zero: number | undefined;
  /** Presentation time of the frame on screen, in seconds of this recording. */
  #shown = 0;
  #waiting: ReturnType<typeof setTimeout> | undefined;
  #closed = false;
  #speed = 1;
  #open: (seen: boolean) => void = () => undefined;
  #whenStill: (() => void)[] = [];

  constructor(address: string, offset: number, startAt: number, events: RecordingEvents) {
    this.#events = events;
    this.#offset = offset;
    this.video = document.createElement("video");
    this.video.crossOrigin = "anonymous";
    this.video.preload = "auto";
    this.video.playsInline = true;
    this.video.disablePictureInPicture = true;
    this.video.tabIndex = -1;
    this.video.preservesPitch = true;
    this.#shown = Math.max(0, startAt / 1000 - offset);
    this.opened = new Promise((resolve) => {
      this.#open = resolve;
    });
    this.#listen(startAt);
    this.video.src = address;
  }

  get at(): Milliseconds {
    return fromSeconds(this.#shown + this.#offset);
  }

  get frame(): number {
    return lasts(this.#grid, this.#shown) * 1000;
  }

  get number(): number | undefined {
    return this.#times === undefined ? undefined : nearestFrame(this.#times, this.#shown);
  }

  get end(): Milliseconds | undefined {
    const last = this.#times?.at(-1) ?? this.#duration;
    return last === undefined ? undefined : fromSeconds(last + this.#offset);
  }

  get playing(): boolean {
    return !this.video.paused && !this.video.ended;
  }

  get speed(): number {
    return this.#speed;
  }

  /** Time of the frame it is on the way to; that of the frame on screen where nothing is under way. */
  get heading(): Milliseconds {
    return fromSeconds((this.#seeker.goal?.time ?? this.#shown) + this.#offset);
  }

  /** Waits until no seek is under way. */
  async still(): Promise<void> {
    while (this.#seeker.goal !== undefined && !this.#closed)
      await new Promise<void>((resolve) => this.#whenStill.push(resolve));
  }

  /** False while frame times are only estimated. */
  get framesKnown(): boolean {
    return this.#times !== undefined;
  }

  /** `first` is the first frame's own time in the file, in seconds, which the browser counts from. */
  setFrameTimes(times: FrameTimes, first: number): void {
    this.#times = times;
    this.#zero = first;
    this.#events.changed();
  }

  play(): void {
    if (this.video.ended) this.show(this.#offset * 1000);
    this.video.play().catch((error: unknown) => {
      if (!(error instanceof DOMException) || error.name !== "NotAllowedError" || this.video.muted) return;
      this.video.muted = true;
      this.#events.muted();
      this.video.play().catch(() => undefined);
    });
  }

  pause(): void {
    this.video.pause();
  }

  show(at: number): void {
    this.#seeker.request(aimAt(this.#grid, at / 1000 - this.#offset));
  }

  step(frames: number): void {
    this.pause();
    this.#seeker.request(aimBeside(this.#grid, this.#seeker.goal?.time ?? this.#shown, frames));
  }

  beside(at: number, frames: number): Milliseconds {
    return fromSeconds(aimBeside(this.#grid, at / 1000 - this.#offset, frames).time + this.#offset);
  }

  setSpeed(speed: number): void {
    this.#speed = speed;
    this.video.defaultPlaybackRate = speed;
    this.video.playbackRate = speed;
  }

  close(): void {
    this.#closed = true;
    this.#open(false);
    this.#wake();
    clearTimeout(this.#waiting);
    this.video.removeAttribute("src");
    this.video.load();
  }

  get #duration(): number | undefined {
    return Number.isFinite(this.video.duration) ? this.video.duration : undefined;
  }

  get #grid(): FrameGrid {
    return this.#times === undefined
      ? { known: false, frame: this.#estimate.frame, duration: this.#duration ?? Infinity }
      : { known: true, times: this.#times };
  }

  #listen(startAt: number): void {
    const { video } = this;
    const changed = () => {
      this.#events.changed();
    };
    for (const name of ["play", "pause", "ended", "ratechange", "durationchange"] as const)
      video.addEventListener(name, changed);
    video.addEventListener("loadedmetadata", () => {
      if (video.videoWidth === 0) this.#open(false);
      if (video.videoWidth === 0) this.#events.unplayable("no picture in it can be decoded here");
      else this.#events.sized();
    });
    video.addEventListener("loadeddata", () => {
      // Without the table the first frame tells where media time starts; seeking before it is reported would hide that.
      setTimeout(
        () => {
          this.#zero ??= 0;
          if (startAt > this.#offset * 1000) this.show(startAt);
          void this.still().then(() => this.#open(!this.#closed));
        },
        this.#zero === undefined ? frameWait : 0,
      );
    });
    video.addEventListener("canplay", () => this.#listenForSound(), { once: true });
    video.addEventListener("seeked", () => {
      clearTimeout(this.#waiting);
      // The frame may have been reported before the seek was said to be over.
      if (this.#seeker.reached(this.#grid, this.#shown)) this.#nowShown(this.#shown);
      else
        this.#waiting = setTimeout(() => {
          const goal = this.#seeker.goal;
          if (goal !== undefined) this.#nowShown(goal.time);
        }, frameWait);
    });
    video.addEventListener("error", () => {
      this.#open(false);
      if (!this.#closed) this.#events.unplayable(reasonOf(video.error));
    });
    const report: VideoFrameRequestCallback = (_now, frame) => {
      if (this.#closed) return;
      this.#zero ??= video.currentTime < 0.001 ? frame.mediaTime : 0;
      const time = Math.max(0, frame.mediaTime - this.#zero);
      this.#estimate.shown(time, frame.presentedFrames);
      this.#nowShown(this.#times?.[nearestFrame(this.#times, time)] ?? time);
      video.requestVideoFrameCallback(report);
    };
    video.requestVideoFrameCallback(report);
  }

  /** A sound the browser can't decode raises no error; it is only never decoded. */
  #listenForSound(): void {
    const started = performance.now();
    const look = () => {
      const { webkitAudioDecodedByteCount: decoded } = this.video as { webkitAudioDecodedByteCount?: number };
      if (this.#closed) return;
      // Elsewhere than in Chromium nobody counts, so that the codec has to tell.
      if (decoded === undefined || decoded > 0) this.#events.plays(true);
      else if (performance.now() - started > soundWait) this.#events.plays(false);
      else setTimeout(look, 100);
    };
    look();
  }

  #seekTo(aim: number): void {
    this.video.currentTime = aim + (this.#zero ?? 0);
  }

  #wake(): void {
    for (const wake of this.#whenStill.splice(0)) wake();
  }

  #nowShown(time: number): void {
    this.#shown = time;
    if (!this.video.seeking) {
      clearTimeout(this.#waiting);
      this.#seeker.arrived(this.#grid, time);
      if (this.#seeker.goal === undefined) this.#wake();
    }
    this.#events.changed();
  }
}

function reasonOf(error: MediaError | null): string {
  switch (error?.code) {
    case MediaError.MEDIA_ERR_NETWORK:
      return "it could not be read to its end";
    case MediaError.MEDIA_ERR_DECODE:
      return "its picture can't be decoded here";
    case MediaError.MEDIA_ERR_SRC_NOT_SUPPORTED:
      return "its format can't be played here";
    default:
      return "it can't be played here";
  }
}
