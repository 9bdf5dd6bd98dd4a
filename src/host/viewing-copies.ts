// Which recordings being watched need a viewing copy, and how is each doing? Found where it was made before, else made in
// the background; whoever shows the recording is told and takes the copy over.

import path from "node:path";
import type { Copies, CopyKind, CopyProgress, VideoProblem, ViewingCopy } from "../video/index";
import { timeLeft } from "./time-left";

export interface CopySettings {
  readonly ffmpegPath: string | undefined;
  readonly ffprobePath: string | undefined;
  /** Undefined for the folder of one's own that the command line uses too. */
  readonly folder: string | undefined;
  readonly cacheDir: string;
  readonly lines: number;
  readonly mostBytes: number;
}

export interface ViewingCopiesOptions {
  readonly settings: () => CopySettings;
  /** In a workspace that is not trusted no process is started. */
  readonly trusted: () => boolean;
  /** Whether copies are made without being asked for. */
  readonly automatic: () => boolean;
  /** Desktop VS Code, whose missing sound is known by its codec. */
  readonly desktop: boolean;
  /** Waits for the recording's frame table, so that it is not read twice. */
  readonly frames: (file: string) => Promise<unknown>;
  /** The recording at this path is to be shown differently. */
  readonly changed: (file: string) => void;
  /** Shows work that has begun to the user, who may cancel it. */
  readonly watch: (work: CopyWork) => void;
  /** Something on this machine stands in the way of all copies, as no ffmpeg. */
  readonly hindered: (sentence: string) => void;
}

export interface CopyWork {
  /** Name of the recording, without its folder. */
  readonly name: string;
  readonly cancel: () => void;
  readonly done: Promise<unknown>;
  /** Calls back with a share from 0 to 1 and words for it, whenever there is news. */
  readonly follow: (news: (share: number, words: string) => void) => void;
}

/** What a page made of a recording: whether it showed, and whether any sound was decoded. */
export interface Tried {
  readonly picture: boolean;
  readonly sound: boolean;
}

/** How the viewing copy of one recording is doing. */
export interface CopyStatus {
  readonly copy: ViewingCopy | undefined;
  /** For the transport row; empty where there is nothing to say. */
  readonly words: string;
  /** A sentence about why there is none, where one was wanted; empty where all is well. */
  readonly problem: string;
  /** Nothing is on its way: what is played now stays. */
  readonly settled: boolean;
}

/** How often news of the work is passed on, in milliseconds. */
const every = 500;
/** How long opening a recording waits for a copy made before, in milliseconds. */
const findPatience = 1500;

interface Doing {
  status: CopyStatus;
  tried: string;
  /** What a page told while no process could be started. */
  waiting: Tried | undefined;
  stop: AbortController | undefined;
  cancelled: boolean;
  toldAt: number;
  follower: ((share: number, words: string) => void) | undefined;
}

export class ViewingCopies {
  readonly #options: ViewingCopiesOptions;
  readonly #doing = new Map<string, Doing>();
  /** viewer -> copy -> lets go of it */
  readonly #held = new Map<string, Map<string, () => void>>();
  #copies: Promise<Copies> | undefined;
  #ended = false;

  constructor(options: ViewingCopiesOptions) {
    this.#options = options;
  }

  status(file: string): CopyStatus {
    return this.#of(file).status;
  }

  /** The copy made before, where there is one; does not wait long. */
  async find(file: string): Promise<ViewingCopy | undefined> {
    const doing = this.#of(file);
    if (doing.status.copy !== undefined) return doing.status.copy;
    if (!this.#options.trusted()) return undefined;
    let late = false;
    const found = this.#look(file).catch(() => undefined);
    const timer = new Promise<undefined>((resolve) => {
      setTimeout(() => {
        late = true;
        resolve(undefined);
      }, findPatience);
    });
    void found.then((copy) => {
      if (copy !== undefined && late) this.#has(file, copy);
    });
    const copy = await Promise.race([found, timer]);
    if (copy !== undefined) doing.status = played(copy);
    return copy;
  }

  /** A page has tried to play the recording itself: makes the copy it needs, if any. */
  async tried(file: string, tried: Tried): Promise<void> {
    const doing = this.#of(file);
    const key = JSON.stringify(tried);
    if (doing.tried === key || doing.status.copy !== undefined || doing.stop !== undefined) return;
    doing.tried = key;
    if (!this.#options.trusted()) {
      doing.tried = "";
      doing.waiting = tried;
      this.#settle(file, tried.picture ? "" : "A viewing copy can be made once this workspace is trusted.");
      return;
    }
    await this.#options.frames(file);
    const video = await import("../video/index");
    const probed = await video.probe(file, this.#settings());
    if (!probed.ok) {
      this.#failed(file, probed.problem, tried.picture);
      return;
    }
    const { value } = probed;
    const silent =
      value.audio !== null && (!tried.sound || (this.#options.desktop && value.playable === "silent"));
    const kind = video.whichCopy(value, !tried.picture ? "no" : silent ? "silent" : "yes");
    if (kind === "none") this.#settle(file, "");
    else if (!this.#options.automatic())
      this.#settle(file, "The command “Make a viewing copy of the recording” makes one that can be played.");
    else if (!doing.cancelled) await this.#make(file, kind, tried.picture);
  }

  /** The workspace is trusted now: does what had to wait. */
  async trustGranted(): Promise<void> {
    for (const [file, doing] of this.#doing) {
      const { waiting } = doing;
      doing.waiting = undefined;
      if (waiting !== undefined) await this.tried(file, waiting);
    }
  }

  /** Makes a copy because the user wants one, needed or not. */
  async make(file: string): Promise<void> {
    const doing = this.#of(file);
    if (!this.#options.trusted()) {
      this.#options.hindered(
        "A viewing copy can be made once this workspace is trusted: that starts ffmpeg.",
      );
      return;
    }
    if (doing.stop !== undefined) return;
    doing.cancelled = false;
    const known = await this.#look(file).catch(() => undefined);
    if (known !== undefined) this.#has(file, known);
    else await this.#make(file, "whole", true);
  }

  /** While a viewer plays a copy it is not cleared away. */
  async hold({ file }: ViewingCopy, viewer: string): Promise<void> {
    const held = this.#held.get(viewer) ?? new Map<string, () => void>();
    this.#held.set(viewer, held);
    const copies = await this.#start();
    if (this.#held.get(viewer) === held && !held.has(file)) held.set(file, copies.hold(file));
  }

  release(viewer: string): void {
    for (const letGo of this.#held.get(viewer)?.values() ?? []) letGo();
    this.#held.delete(viewer);
  }

  /** Removes every copy that is not being played or made. Copies and bytes removed. */
  async clear(): Promise<{ readonly copies: number; readonly bytes: number }> {
    return (await this.#start()).clear();
  }

  /** Stops all work and waits until nothing half-made is left. */
  async end(): Promise<void> {
    this.#ended = true;
    for (const { stop } of this.#doing.values()) stop?.abort();
    await (await this.#copies)?.end();
  }

  #of(file: string): Doing {
    const known = this.#doing.get(file);
    if (known !== undefined) return known;
    const status = { copy: undefined, words: "", problem: "", settled: false };
    const made = {
      status,
      tried: "",
      waiting: undefined,
      stop: undefined,
      cancelled: false,
      toldAt: 0,
      follower: undefined,
    };
    this.#doing.set(file, made);
    return made;
  }

  async #look(file: string): Promise<ViewingCopy | undefined> {
    const copies = await this.#start();
    return (await copies.find(file, "whole")) ?? copies.find(file, "sound");
  }

  async #make(file: string, kind: CopyKind, picture: boolean): Promise<void> {
    if (this.#ended) return;
    const doing = this.#of(file);
    const stop = new AbortController();
    doing.stop = stop;
    const copies = await this.#start();
    const progress = (news: CopyProgress) => this.#news(file, news);
    const making = copies.make(file, kind, { signal: stop.signal, progress });
    this.#options.watch({
      name: path.basename(file),
      cancel: () => {
        doing.cancelled = true;
        stop.abort();
      },
      done: making,
      follow: (news) => {
        doing.follower = news;
      },
    });
    const made = await making;
    doing.stop = undefined;
    doing.follower = undefined;
    if (made.ok) this.#has(file, made.value);
    else this.#failed(file, made.problem, picture);
  }

  #news(file: string, news: CopyProgress): void {
    const doing = this.#of(file);
    const now = Date.now();
    if (doing.stop === undefined || now - doing.toldAt < every) return;
    doing.toldAt = now;
    const words = progressWords(news);
    doing.follower?.(news.share, words);
    doing.status = { ...doing.status, words: `viewing copy: ${words}`, problem: "", settled: false };
    this.#options.changed(file);
  }

  #has(file: string, copy: ViewingCopy): void {
    this.#of(file).status = played(copy);
    this.#options.changed(file);
  }

  #failed(file: string, problem: VideoProblem, picture: boolean): void {
    if (problem.rule.startsWith("program-") || problem.rule === "encoder-missing")
      this.#options.hindered(problem.message);
    const cancelled = problem.rule === "cancelled";
    const told = cancelled
      ? "No viewing copy was made. The command “Make a viewing copy of the recording” makes one."
      : problem.message;
    // Where the picture plays, only what the user began is worth a line.
    this.#settle(file, picture && (cancelled || problem.rule.startsWith("program-")) ? "" : told);
  }

  #settle(file: string, problem: string): void {
    const doing = this.#of(file);
    doing.status = { ...doing.status, words: "", problem, settled: true };
    this.#options.changed(file);
  }

  #settings() {
    const { cacheDir, ffprobePath } = this.#options.settings();
    return { cacheDir, ffprobePath };
  }

  #start(): Promise<Copies> {
    this.#copies ??= import("../video/index").then(({ Copies, defaultCopiesFolder }) => {
      const { settings } = this.#options;
      return new Copies({
        get folder() {
          return settings().folder ?? defaultCopiesFolder();
        },
        get cacheDir() {
          return settings().cacheDir;
        },
        get ffmpegPath() {
          return settings().ffmpegPath;
        },
        get ffprobePath() {
          return settings().ffprobePath;
        },
        get lines() {
          return settings().lines;
        },
        get mostBytes() {
          return settings().mostBytes;
        },
      });
    });
    return this.#copies;
  }
}

function played(copy: ViewingCopy): CopyStatus {
  const lost = copy.missing === 0 ? "" : `, ${copy.missing} damaged frames left out`;
  return { copy, words: `viewing copy${lost}`, problem: "", settled: true };
}

function progressWords({ share, secondsLeft, state }: CopyProgress): string {
  const percent = `${Math.floor(share * 100)} %`;
  switch (state) {
    case "waiting":
      return "waiting for others to be finished";
    case "elsewhere":
      return `being made by another window or machine, ${percent}`;
    case "checking":
      return "checking its frames";
    case "working":
      return secondsLeft === null ? percent : `${percent}, ${timeLeft(secondsLeft)}`;
  }
}
