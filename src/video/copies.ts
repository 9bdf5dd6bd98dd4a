// The viewing copies of a folder: found, made two at a time, kept within a size limit, removed when asked.

import { failure, type Result, success } from "../bout/result";
import { CopyFolder, type Bulk } from "./copy-folder";
import type { CopyProgress } from "./copy-progress";
import { fingerprint } from "./fingerprint";
import { identity } from "./frame-index";
import { type MakeOptions, type VideoProblem, videoProblem } from "./problem";
import type { CopyKind } from "./recipe";
import { findCopy, findOrMakeCopy, type ViewingCopy } from "./shared-copy";
import { Turns } from "./turns";

/** Read anew for each copy, so they may be getters. */
export interface CopiesOptions extends Omit<MakeOptions, "signal"> {
  /** Where copies are kept; may be shared with other machines. */
  readonly folder: string;
  /** Most lines of a copy's picture; 540 by default. */
  readonly lines?: number | undefined;
  /** Most bytes of copies in the folder; 20 GB by default. */
  readonly mostBytes?: number | undefined;
  /** Copies made at a time, 1 or 2; 2 by default. */
  readonly atOnce?: number | undefined;
}

export interface Asking {
  readonly signal?: AbortSignal | undefined;
  readonly progress?: ((progress: CopyProgress) => void) | undefined;
}

interface Job {
  readonly stop: AbortController;
  readonly askers: Set<Asking>;
  readonly result: Promise<Result<ViewingCopy, VideoProblem>>;
}

export class Copies {
  readonly #options: CopiesOptions;
  /** By the copy's full path. */
  readonly #jobs = new Map<string, Job>();
  /** How many play a copy, by its full path. */
  readonly #held = new Map<string, number>();
  readonly #turns: Turns;
  #ended = false;

  constructor(options: CopiesOptions) {
    this.#options = options;
    this.#turns = new Turns(() => (options.atOnce === 1 ? 1 : 2));
  }

  /** The copy, if it was made before. It counts as used now. */
  async find(file: string, kind: CopyKind, signal?: AbortSignal): Promise<ViewingCopy | undefined> {
    const target = await this.#target(file, kind);
    if (!target.ok || this.#ended) return undefined;
    const found = await findCopy(file, target.value, { ...this.#programs(), signal });
    if (!found.ok || found.value === undefined) return undefined;
    await this.#folder().use(found.value.file);
    return found.value;
  }

  /** Finds the copy or makes it. Asked for twice it is made once, and goes on while anybody who asked still wants it. */
  async make(file: string, kind: CopyKind, asking: Asking = {}): Promise<Result<ViewingCopy, VideoProblem>> {
    const { signal } = asking;
    const target = await this.#target(file, kind);
    if (!target.ok) return target;
    const cancelled = failure(videoProblem("cancelled", `The viewing copy of ${file} was given up.`));
    if (this.#ended || signal?.aborted === true) return cancelled;
    // One that was just given up is waited for, then begun again.
    for (let last = this.#jobs.get(target.value); last?.stop.signal.aborted === true;)
      last = await last.result.then(() => this.#jobs.get(target.value));
    const job = this.#jobs.get(target.value) ?? this.#start(file, kind, target.value, asking);
    job.askers.add(asking);
    return new Promise((resolve, reject) => {
      const leave = () => {
        job.askers.delete(asking);
        // The last one waits until nothing half-made is left.
        if (job.askers.size > 0) resolve(cancelled);
        else job.stop.abort();
      };
      signal?.addEventListener("abort", leave, { once: true });
      job.result
        .then((result) => resolve(result.ok || signal?.aborted !== true ? result : cancelled), reject)
        .finally(() => signal?.removeEventListener("abort", leave));
    });
  }

  /** Keeps a copy from being removed until the function given back is called. */
  hold(copy: string): () => void {
    this.#held.set(copy, (this.#held.get(copy) ?? 0) + 1);
    let holding = true;
    return () => {
      if (!holding) return;
      holding = false;
      const left = (this.#held.get(copy) ?? 1) - 1;
      if (left > 0) this.#held.set(copy, left);
      else this.#held.delete(copy);
    };
  }

  /** Removes all copies that are neither held nor being made; answers what went. */
  clear(): Promise<Bulk> {
    return this.#folder().clear(this.#inUse());
  }

  size(): Promise<Bulk> {
    return this.#folder().size();
  }

  /** Gives up all that is being made; nothing half-made is left, and nothing more is begun. */
  async end(): Promise<void> {
    this.#ended = true;
    const jobs = [...this.#jobs.values()];
    for (const { stop } of jobs) stop.abort();
    await Promise.allSettled(jobs.map(({ result }) => result));
  }

  #start(file: string, kind: CopyKind, target: string, asking: Asking): Job {
    const stop = new AbortController();
    const askers = new Set([asking]);
    const request = {
      ...{ file, kind, target, lines: this.#lines() },
      progress: (now: CopyProgress) => {
        for (const asker of askers) asker.progress?.(now);
      },
    };
    const result = findOrMakeCopy(request, this.#turns, { ...this.#programs(), signal: stop.signal })
      .then(async (copy) => {
        if (copy.ok) await this.#settle(copy.value);
        return copy;
      })
      .finally(() => this.#jobs.delete(target));
    const job = { stop, askers, result };
    this.#jobs.set(target, job);
    return job;
  }

  /** A copy counts as used, and one that was made may push out others. */
  async #settle({ file, made }: ViewingCopy): Promise<void> {
    const folder = this.#folder();
    if (!made) return folder.use(file);
    await folder.shrink(this.#options.mostBytes ?? 20e9, new Set([...this.#inUse(), file]));
  }

  #inUse(): ReadonlySet<string> {
    return new Set([...this.#held.keys(), ...this.#jobs.keys()]);
  }

  async #target(file: string, kind: CopyKind): Promise<Result<string, VideoProblem>> {
    const there = await identity(file);
    if (!there.ok) return there;
    try {
      return success(this.#folder().placeOf(await fingerprint(file), kind, this.#lines()));
    } catch {
      return failure(videoProblem("recording-missing", `${file} is not there or can't be read.`));
    }
  }

  #folder(): CopyFolder {
    return new CopyFolder(this.#options.folder);
  }

  #lines(): number {
    return Math.max(2, Math.round(this.#options.lines ?? 540));
  }

  #programs(): Omit<MakeOptions, "signal"> {
    const { cacheDir, ffmpegPath, ffprobePath } = this.#options;
    return { cacheDir, ffmpegPath, ffprobePath };
  }
}
