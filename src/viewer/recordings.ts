// The recordings of the bout: which one is on screen, what it is doing, and the clock that is used without one.

import type { FrameTimes } from "../bout/frames";
import type { Source } from "../messages/contract";
import type { Clock } from "./picture/clock";
import { readFrameTimes } from "./picture/frame-grid";
import { HandClock } from "./picture/hand-clock";
import { inMemory, inMemoryAtOnce } from "./picture/in-memory";
import type { Picture } from "./picture/picture";
import { RecordingClock } from "./picture/recording-clock";
import { ready } from "./picture/take-over";
import { fetchLevels, type SoundLevels } from "./sound-levels";

export interface RecordingsEvents {
  changed(): void;
  /** Another recording, or none, is on screen. */
  switched(): void;
  /** A recording was tried: its picture shows or not, its sound is heard or not. */
  tried(file: string, picture: boolean, sound: boolean): void;
  muted(): void;
  /** More is known of the sound of the recording on screen, or there is none. */
  heard(levels: SoundLevels | undefined): void;
}

interface Frames {
  readonly times: FrameTimes;
  /** The first frame's own time in the file, in seconds. */
  readonly first: number;
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
  /** Which recording is on screen, or is being opened, and its address as the host gave it. */
  #file = "";
  #address: string | null = null;
  /** The address of what is on screen already, while the one above gets ready. */
  #shownAddress: string | null = null;
  /** The address of what is on screen where it is played from memory. */
  #memory: string | undefined;
  #frames: Frames | undefined;
  #framesAddress: string | null = null;
  /** The address that is being fetched, or was. */
  #fetching = "";
  /** Ends what goes on for the recording at this address: fetching it, or getting another ready. */
  #behind = new AbortController();
  #levelsAddress: string | null = null;
  #levelsStop = new AbortController();
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

  /** Whether a picture is still to come: the host has not told yet what there is, or it is being opened. */
  get pending(): boolean {
    return this.#sources === undefined || (this.#address !== null && this.#recording === undefined);
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
    const told = [source?.state ?? ""];
    if (source !== undefined && this.#recording !== undefined) {
      told.push(source.problem);
      if (!this.#recording.framesKnown) told.push("frame times estimated");
    } else if (this.#sources !== undefined && this.#address === null)
      told.push("no picture: the clock is yours to set");
    return told.filter((one) => one !== "").join(" · ");
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
    const same = source !== undefined && source.file === this.#file && this.#recording !== undefined;
    // A viewing copy that can't be played leaves the recording itself on screen.
    const useless = same && failure !== undefined && this.#shownAddress !== source.address;
    const address = failure === undefined ? (source?.address ?? null) : null;
    if (address !== this.#address && !useless) {
      if (same && address !== null) void this.#takeOver(source, address);
      else this.#open(source, address);
    } else if (source !== undefined && address !== null) {
      if (source.frames !== this.#framesAddress) void this.#fetchFrames(source);
      if (source.settled) this.#fetchWhole(source);
    }
    if (this.#address === null) this.#sayWhy(source, failure);
    this.#listen(source);
    this.#events.switched();
  }

  #open(source: Source | undefined, address: string | null): void {
    const { at, playing } = this.clock;
    this.clock.pause();
    this.#close();
    this.#file = source?.file ?? "";
    this.#address = address;
    this.#picture.show(undefined);
    this.#hand.setSpeed(this.#speed);
    this.#hand.show(at);
    if (address === null || source === undefined) return;
    this.#picture.say(`Opening ${source.file}…`);
    void this.#fetchFrames(source);
    void inMemoryAtOnce(address).then((memory) => {
      if (this.#address === address && this.#recording === undefined) {
        this.#start(source, address, memory, playing);
      }
    });
  }

  #close(): void {
    this.#behind.abort();
    this.#behind = new AbortController();
    this.#recording?.close();
    this.#recording = undefined;
    this.#forgetMemory();
    this.#frames = undefined;
    this.#framesAddress = null;
    this.#shownAddress = null;
    this.#fetching = "";
  }

  #forgetMemory(): void {
    if (this.#memory !== undefined) URL.revokeObjectURL(this.#memory);
    this.#memory = undefined;
  }

  #start(source: Source, address: string, memory: Blob | undefined, playing: boolean): void {
    const played = memory === undefined ? undefined : URL.createObjectURL(memory);
    const recording = this.#clockFor(source, address, played, memory, this.#hand.at);
    this.#hand.pause();
    this.#memory = played;
    this.#recording = recording;
    this.#shownAddress = address;
    this.#picture.show(recording);
    this.#picture.say("");
    if (playing) recording.play();
    this.#events.switched();
    const now = this.sources[this.#chosen];
    if (now?.settled === true) this.#fetchWhole(now);
  }

  /** `played` is the address of what is in memory. */
  #clockFor(
    source: Source,
    address: string,
    played: string | undefined,
    memory: Blob | undefined,
    at: number,
  ): RecordingClock {
    const onScreen = () => this.#recording === recording;
    const recording: RecordingClock = new RecordingClock(played ?? address, memory, source.offset, at, {
      changed: () => {
        if (onScreen()) this.#events.changed();
      },
      sized: () => {
        if (onScreen()) this.#picture.sized();
      },
      muted: () => {
        this.#sound = false;
        this.#events.muted();
      },
      plays: (sound) => {
        if (onScreen()) this.#events.tried(source.file, true, sound);
      },
      unplayable: (reason) => {
        this.#failed.set(address, reason);
        if (!onScreen()) return;
        this.#events.tried(source.file, false, false);
        this.#load();
      },
    });
    recording.video.muted = !this.#sound;
    recording.setSpeed(this.#speed);
    if (this.#frames !== undefined && this.#address === address)
      recording.setFrameTimes(this.#frames.times, this.#frames.first);
    return recording;
  }

  /** The same recording is to be had in another way: it goes on from the frame on screen. */
  async #takeOver(source: Source, address: string): Promise<void> {
    this.#behind.abort();
    const behind = new AbortController();
    this.#behind = behind;
    this.#address = address;
    this.#framesAddress = source.frames;
    const [frames, memory] = await Promise.all([
      source.frames === null ? undefined : framesAt(source.frames),
      inMemory(address, behind),
    ]);
    if (behind.signal.aborted) return;
    this.#frames = frames;
    await this.#goOn(source, address, memory, behind.signal);
  }

  /** Fetches a recording that plays from its address, and goes on from memory. */
  #fetchWhole(source: Source): void {
    const { address } = source;
    if (address === null || address !== this.#shownAddress || this.#fetching === address) return;
    if (this.#memory !== undefined || this.#recording === undefined) return;
    this.#fetching = address;
    const behind = this.#behind;
    void inMemory(address, behind).then((memory) => {
      if (memory === undefined || behind.signal.aborted || this.#address !== address) return;
      void this.#goOn(source, address, memory, behind.signal);
    });
  }

  async #goOn(source: Source, address: string, memory: Blob | undefined, stop: AbortSignal): Promise<void> {
    const now = this.#recording;
    if (now === undefined) return;
    const played = memory === undefined ? undefined : URL.createObjectURL(memory);
    const next = this.#clockFor(source, address, played, memory, now.heading);
    next.video.muted = true;
    this.#picture.prepare(next);
    const isReady = await ready(now, next, stop);
    if (!isReady || stop.aborted || this.#recording !== now) {
      next.close();
      next.video.remove();
      next.drawn.canvas.remove();
      if (played !== undefined) URL.revokeObjectURL(played);
      return;
    }
    const { playing } = now;
    this.#recording = next;
    this.#shownAddress = address;
    next.setSpeed(this.#speed);
    next.video.muted = !this.#sound;
    if (playing) next.play();
    this.#picture.takeOver(next);
    now.close();
    this.#forgetMemory();
    this.#memory = played;
    this.#events.switched();
    this.#events.changed();
  }

  #sayWhy(source: Source | undefined, failure: string | undefined): void {
    const still = "Tagging still works: type a time below, or let the clock run with play.";
    if (source === undefined) this.#picture.say("No recording", "This bout file names none.", still);
    else if (failure === undefined) this.#picture.say(`${source.file} can't be shown`, source.problem, still);
    else if (!source.settled && source.state !== "")
      this.#picture.say(
        `${source.file} needs a viewing copy`,
        `The editor says: ${failure}.`,
        `${source.state}.`,
        still,
      );
    else
      this.#picture.say(
        `${source.file} can't be shown`,
        `The editor says: ${failure}.`,
        source.problem,
        still,
      );
  }

  async #fetchFrames({ frames: address }: Source): Promise<void> {
    this.#framesAddress = address;
    if (address === null) return;
    const frames = await framesAt(address);
    if (this.#framesAddress !== address || frames === undefined) return;
    this.#frames = frames;
    this.#recording?.setFrameTimes(frames.times, frames.first);
    this.#events.switched();
  }

  #listen(source: Source | undefined): void {
    const address = source?.sound ?? null;
    if (address === this.#levelsAddress) return;
    this.#levelsAddress = address;
    this.#levelsStop.abort();
    this.#levelsStop = new AbortController();
    this.#events.heard(undefined);
    const offset = (source?.offset ?? 0) * 1000;
    if (address !== null)
      void fetchLevels(address, offset, this.#levelsStop.signal, (levels) => {
        this.#events.heard(levels);
      });
  }
}

/** Undefined where frame times can't be had: they stay estimated then, and the page says so. */
async function framesAt(address: string): Promise<Frames | undefined> {
  try {
    const reply = await fetch(address);
    const times = reply.ok ? readFrameTimes(await reply.arrayBuffer()) : undefined;
    const first = Number(reply.headers.get("First-Frame") ?? 0);
    return times === undefined ? undefined : { times, first };
  } catch {
    return undefined;
  }
}
