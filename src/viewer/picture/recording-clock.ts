// A recording on screen. Which frame is shown is what `requestVideoFrameCallback` says, never `currentTime`; a frame is
// sought by aiming half-way between its time and the next one's. Where single frames can be decoded, one that is asked for
// while the picture stands still is drawn over the video element, which follows once nothing more is asked for.

import { nearestFrame, type FrameTimes } from "../../bout/frames";
import { fromSeconds, type Milliseconds } from "../../bout/time";
import type { Clock } from "./clock";
import { DrawnFrame } from "./drawn-frame";
import { aimAt, aimBeside, FrameEstimate, lasts, sameFrame, type Aim, type FrameGrid } from "./frame-grid";
import { Seeker } from "./seeker";
import { SingleFrames } from "./single-frames";

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
/** How long after the last drawn frame the video element follows. Milliseconds. */
const calm = 400;
/** How long after it can play its sound may take to be decoded. Milliseconds. */
const soundWait = 1500;

export class RecordingClock implements Clock {
  readonly video: HTMLVideoElement;
  readonly drawn: DrawnFrame;
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
  #shown: number;
  /** The same of the frame in the video element, which a drawn one may cover. */
  #inVideo: number;
  #waiting: ReturnType<typeof setTimeout> | undefined;
  #following: ReturnType<typeof setTimeout> | undefined;
  readonly #from: Blob | string;
  #closed = false;
  #speed = 1;
  #open: (seen: boolean) => void = () => undefined;
  #whenStill: (() => void)[] = [];

  /** `from` is the same recording as at the address, where it is in memory. */
  constructor(
    address: string,
    from: Blob | undefined,
    offset: number,
    startAt: number,
    events: RecordingEvents,
  ) {
    this.#events = events;
    this.#from = from ?? address;
    this.#offset = offset;
    this.video = document.createElement("video");
    this.video.crossOrigin = "anonymous";
    this.video.preload = "auto";
    this.video.playsInline = true;
    this.video.disablePictureInPicture = true;
    this.video.tabIndex = -1;
    this.video.preservesPitch = true;
    this.drawn = new DrawnFrame({
      drawn: (time) => {
        this.#nowDrawn(time);
      },
      refused: (to) => {
        this.#seekUncovered(to);
      },
    });
    this.#shown = this.#inVideo = Math.max(0, startAt / 1000 - offset);
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
    return fromSeconds((this.#goal?.time ?? this.#shown) + this.#offset);
  }

  /** Waits until no seek is under way. */
  async still(): Promise<void> {
    while (this.#goal !== undefined && !this.#closed)
      await new Promise<void>((resolve) => this.#whenStill.push(resolve));
  }

  /** False while frame times are only estimated. */
  get framesKnown(): boolean {
    return this.#times !== undefined;
  }

  /** `first` is the first frame's own time in the file, in seconds, which the browser counts from. */
  setFrameTimes(times: FrameTimes, first: number): void {
    const isNew = this.#times === undefined;
    this.#times = times;
    this.#zero = first;
    this.#events.changed();
    if (isNew) void this.#drawFrames(first);
  }

  play(): void {
    if (this.video.ended) this.show(this.#offset * 1000);
    this.#follow();
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
    this.#request(aimAt(this.#grid, at / 1000 - this.#offset));
  }

  step(frames: number): void {
    this.pause();
    this.#request(aimBeside(this.#grid, this.#goal?.time ?? this.#shown, frames));
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
    clearTimeout(this.#following);
    this.drawn.close();
    this.video.removeAttribute("src");
    this.video.load();
  }

  /** The frame that will be on screen when all is done; undefined where it is there already. */
  get #goal(): Aim | undefined {
    return this.drawn.goal ?? (this.drawn.covers ? undefined : this.#seeker.goal);
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
      if (this.#seeker.reached(this.#grid, this.#inVideo)) this.#nowShown(this.#inVideo);
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
      this.#nowShown(this.#snapped(time));
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

  async #drawFrames(first: number): Promise<void> {
    if (!(await this.opened)) return;
    const frames = await SingleFrames.open(this.#from, first);
    if (frames !== undefined) this.drawn.use(frames, first);
  }

  #request(to: Aim): void {
    clearTimeout(this.#following);
    if (this.drawn.able && !this.playing) this.drawn.request(to, this.#grid);
    else this.#seekUncovered(to);
  }

  /** A frame that isn't drawn must not come in behind one that was. */
  #seekUncovered(to: Aim): void {
    if (this.drawn.covers) {
      this.drawn.lift();
      this.#shown = this.#inVideo;
    }
    this.#seeker.request(to);
  }

  /** Takes the video element to the frame that was drawn, or asked for, last. */
  #follow(): void {
    clearTimeout(this.#following);
    const { goal, covers } = this.drawn;
    this.drawn.forget();
    if (goal !== undefined) this.#seeker.request(goal);
    else if (covers && this.#canBeSeen) this.drawn.lift();
    else if (covers) this.#seeker.request(aimAt(this.#grid, this.#shown));
  }

  #seekTo(aim: number): void {
    this.video.currentTime = aim + (this.#zero ?? 0);
  }

  #wake(): void {
    for (const wake of this.#whenStill.splice(0)) wake();
  }

  #nowDrawn(time: number): void {
    this.#shown = this.#snapped(time);
    clearTimeout(this.#following);
    if (this.drawn.goal === undefined) {
      this.#following = setTimeout(() => {
        this.#follow();
      }, calm);
      this.#wake();
    }
    this.#events.changed();
  }

  /** The frame of this time has come in the video element. */
  #nowShown(time: number): void {
    this.#inVideo = time;
    if (!this.video.seeking) {
      clearTimeout(this.#waiting);
      this.#seeker.arrived(this.#grid, time);
    }
    if (this.drawn.covers) {
      if (!this.#canBeSeen) return;
      this.drawn.lift();
    }
    this.#shown = time;
    if (this.#goal === undefined) this.#wake();
    this.#events.changed();
  }

  /** Whether the video element has come to the drawn frame, or goes on from there. */
  get #canBeSeen(): boolean {
    if (this.video.seeking || this.#seeker.goal !== undefined || this.drawn.goal !== undefined) return false;
    return this.playing || sameFrame(this.#grid, this.#inVideo, this.#shown);
  }

  #snapped(time: number): number {
    return this.#times?.[nearestFrame(this.#times, time)] ?? time;
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
