// The recordings of the bout: which one is on screen, what it is doing, and the clock that is used without one.

import type { FrameTimes } from "../bout/frames";
import type { Source } from "../messages/contract";
import type { Clock } from "./picture/clock";
import { readFrameTimes } from "./picture/frame-grid";
import { HandClock } from "./picture/hand-clock";
import type { Picture } from "./picture/picture";
import { RecordingClock } from "./picture/recording-clock";
import { inMemory } from "./picture/short-recording";

export interface RecordingsEvents {
  changed(): void;
  /** Another recording, or none, is on screen. */
  switched(): void;
  unplayable(file: string, reason: string): void;
  muted(): void;
}

const none: readonly Source[] = [];

export class Recordings {
  readonly #picture: Picture;
  readonly #events: RecordingsEvents;
  readonly #hand: HandClock;
  #recording: RecordingClock | undefined;
  #sources: readonly Source[] | undefined;
  #chosen = 0;
  #speed = 1;
  #sound = true;
  /** Address of the recording on screen, and of its frame times. */
  #address: string | null = null;
  #frames: string | null = null;
  /** Where the recording on screen is played from memory. */
  #memory: string | undefined;
  #times: FrameTimes | undefined;
  readonly #failed = new Map<string, string>();

  constructor(picture: Picture, events: RecordingsEvents, startAt: number, chosen: number) {
    this.#picture = picture;
    this.#events = events;
    this.#hand = new HandClock(() => events.changed(), startAt);
    this.#chosen = chosen;
    this.#picture.say("Looking for the recording…");
  }

  get clock(): Clock {
    return this.#recording ?? this.#hand;
  }

  get sources(): readonly Source[] {
    return this.#sources ?? none;
  }

  get chosen(): number {
    return this.#chosen;
  }

  get hasPicture(): boolean {
    return this.#recording !== undefined;
  }

  get speed(): number {
    return this.#speed;
  }

  get sound(): boolean {
    return this.#sound;
  }

  /** How the recording on screen is doing, in words. */
  get state(): string {
    const source = this.sources[this.#chosen];
    if (source === undefined || this.#recording === undefined)
      return this.#sources === undefined || this.#address !== null
        ? ""
        : "no picture: the clock is yours to set";
    const told = [source.state ?? "", source.problem].filter((one) => one !== "");
    return [...told, ...(this.#recording.framesKnown ? [] : ["frame times estimated"])].join(" · ");
  }

  /** Takes the list of recordings; the one on screen stays untouched unless its address has changed. */
  take(sources: readonly Source[]): void {
    this.#sources = sources;
    if (this.#chosen >= sources.length) this.#chosen = 0;
    this.#load();
  }

  choose(index: number): void {
    if (index === this.#chosen || this.sources[index] === undefined) return;
    this.#chosen = index;
    this.#load();
  }

  chooseNext(): void {
    this.choose((this.#chosen + 1) % Math.max(1, this.sources.length));
  }

  setSpeed(speed: number): void {
    this.#speed = speed;
    this.clock.setSpeed(speed);
    this.#events.changed();
  }

  setSound(on: boolean): void {
    this.#sound = on;
    if (this.#recording !== undefined) this.#recording.video.muted = !on;
  }

  /** To be called for each picture drawn: the clock without a recording has nobody else to wake it. */
  tick(): void {
    if (this.#recording === undefined) this.#hand.tick();
  }

  #load(): void {
    const source = this.sources[this.#chosen];
    const failure = this.#failed.get(source?.address ?? "");
    const address = failure === undefined ? (source?.address ?? null) : null;
    if (address !== this.#address) this.#open(source, address);
    if (address === null) this.#sayWhy(source, failure);
    if (source !== undefined && address !== null && source.frames !== this.#frames)
      void this.#fetchFrames(source.frames);
    this.#events.switched();
  }

  #open(source: Source | undefined, address: string | null): void {
    const { at, playing } = this.clock;
    this.clock.pause();
    this.#recording?.close();
    this.#recording = undefined;
    if (this.#memory !== undefined) URL.revokeObjectURL(this.#memory);
    this.#memory = undefined;
    this.#address = address;
    this.#frames = null;
    this.#times = undefined;
    this.#picture.show(undefined);
    this.#hand.setSpeed(this.#speed);
    this.#hand.show(at);
    if (address === null || source === undefined) return;
    this.#picture.say(`Opening ${source.file}…`);
    void inMemory(address).then((memory) => {
      if (this.#address === address) this.#start(source, address, memory, playing);
      else if (memory !== undefined) URL.revokeObjectURL(memory);
    });
  }

  #start(source: Source, address: string, memory: string | undefined, playing: boolean): void {
    const recording = new RecordingClock(memory ?? address, source.offset, this.#hand.at, {
      changed: () => this.#events.changed(),
      sized: () => this.#picture.sized(),
      muted: () => {
        this.#sound = false;
        this.#events.muted();
      },
      unplayable: (reason) => {
        this.#failed.set(address, reason);
        this.#events.unplayable(source.file, reason);
        this.#load();
      },
    });
    this.#hand.pause();
    this.#memory = memory;
    this.#recording = recording;
    recording.video.muted = !this.#sound;
    recording.setSpeed(this.#speed);
    if (this.#times !== undefined) recording.setFrameTimes(this.#times);
    this.#picture.show(recording.video);
    this.#picture.say("");
    if (playing) recording.play();
    this.#events.switched();
  }

  #sayWhy(source: Source | undefined, failure: string | undefined): void {
    const still = "Tagging still works: type a time below, or let the clock run with play.";
    if (source === undefined) this.#picture.say("No recording", "This bout file names none.", still);
    else if (failure === undefined) this.#picture.say(`${source.file} can't be shown`, source.problem, still);
    else
      this.#picture.say(
        `${source.file} can't be shown`,
        `The editor says: ${failure}.`,
        source.problem,
        still,
      );
  }

  async #fetchFrames(address: string | null): Promise<void> {
    this.#frames = address;
    if (address === null) return;
    try {
      const reply = await fetch(address);
      const times = reply.ok ? readFrameTimes(await reply.arrayBuffer()) : undefined;
      if (this.#frames !== address || times === undefined) return;
      this.#times = times;
      this.#recording?.setFrameTimes(times);
      this.#events.switched();
    } catch {
      // Without the table frame times stay estimated, and the page says so.
    }
  }
}
