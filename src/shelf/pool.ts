// A few threads that read bout files side by side. They are started when there is enough to do and gone when it is done.
// Each tells through shared memory how many files it has read, so that it is known which file one hung at or died of.

import { availableParallelism } from "node:os";
import { Worker } from "node:worker_threads";
import type { BoutFile } from "./find";
import { notLookedAt } from "./read-file";
import type { ShelfRow } from "./row";

/** Files a thread is given at a time: few enough that all end together, enough that handing over costs little. */
const batch = 32;
const mostThreads = 4;

/** Megabytes for what a thread makes of a file and soon throws away. With the usual 48 it would touch fresh memory all
 * through its first few hundred files, which takes longer than clearing up more often. */
const forTheMoment = 3;

/** Threads that came to nothing one after another, without a file read between them, before no more are started. */
const mostFailures = 5;

/** Seconds without a file read after which a thread counts as hung: far more than the slowest honest file takes, on a slow
 * disk and a busy machine. */
const usualPatience = 60;
const patiencePerMegabyte = 10;

export interface PoolOptions {
  /** The script of the thread, `dist/shelf-worker.js`. */
  readonly worker: string;
  readonly onProgress?: ((done: number, of: number) => void) | undefined;
  readonly signal?: AbortSignal | undefined;
  /** Seconds a file may take, beside those for its size. */
  readonly patience?: number | undefined;
}

/** A file that a thread hung at or died of is given to another one, alone, and told as unreadable where that fails too. */
export class Pool {
  readonly #options: PoolOptions;
  readonly #rows: ShelfRow[] = [];
  readonly #queue: BoutFile[] = [];
  #next = 0;
  #given = 0;
  readonly #suspects: BoutFile[] = [];
  readonly #threads = new Set<Promise<void>>();
  #failures = 0;
  /** Why no more threads are started. */
  #hopeless: string | undefined;
  /** Nothing more will be given. */
  #closed = false;
  #waiting: (() => void)[] = [];

  constructor(options: PoolOptions) {
    this.#options = options;
  }

  /** Begins to read these too, while more are looked for. `rows` must be asked for afterwards: it lets the threads end. */
  give(files: readonly BoutFile[]): void {
    this.#given += files.length;
    for (const file of files) this.#queue.push(file);
    if (this.#hopeless !== undefined) this.#tellTheRest(this.#hopeless);
    this.#wake();
    const most = Math.min(mostThreads, availableParallelism());
    while (this.#threads.size < most && this.#next < this.#queue.length) {
      const thread = this.#workThrough().finally(() => this.#threads.delete(thread));
      this.#threads.add(thread);
    }
  }

  /** The rows of all files given, in no order; fewer where it was stopped. */
  async rows(): Promise<readonly ShelfRow[]> {
    this.#closed = true;
    this.#wake();
    await Promise.all(this.#threads);
    return this.#rows;
  }

  #wake(): void {
    for (const go of this.#waiting.splice(0)) go();
  }

  /** The next files, or one alone that was the end of a thread; none where there will be no more. */
  async #take(): Promise<readonly BoutFile[]> {
    while (this.#options.signal?.aborted !== true) {
      if (this.#next < this.#queue.length) {
        const files = this.#queue.slice(this.#next, this.#next + batch);
        this.#next += files.length;
        return files;
      }
      const suspect = this.#suspects.shift();
      if (suspect !== undefined) return [suspect];
      if (this.#closed) break;
      await new Promise<void>((go) => this.#waiting.push(go));
    }
    return [];
  }

  /** One thread after another until nothing is left: the next one takes over where one has ended before its time. */
  async #workThrough(): Promise<void> {
    let files: readonly BoutFile[] = [];
    do {
      const thread = new ReadingThread(this.#options);
      try {
        while ((files = await this.#take()).length > 0) {
          this.#add(await thread.read(files));
          this.#failures = 0;
        }
      } catch (error) {
        this.#failed(files, thread.done, error instanceof Error ? error.message : String(error));
      } finally {
        await thread.end();
      }
    } while (files.length > 0);
  }

  /** Files before the one at hand are read again by another thread: their rows are lost. */
  #failed(files: readonly BoutFile[], done: number, reason: string): void {
    this.#failures = done > 0 ? 0 : this.#failures + 1;
    const culprit = files[done];
    const others = files.filter((file) => file !== culprit);
    if (culprit !== undefined && files.length > 1) this.#suspects.push(culprit);
    else if (culprit !== undefined)
      this.#add([unreadable(culprit, `a thread that reads this alone comes to grief (${reason})`)]);
    this.#queue.push(...others);
    if (this.#failures < mostFailures) return;
    // It is not the files: what is left is told rather than tried for hours.
    this.#hopeless = `the threads that read files come to grief (${reason})`;
    this.#tellTheRest(this.#hopeless);
  }

  #tellTheRest(problem: string): void {
    const rest = [...this.#queue.splice(this.#next), ...this.#suspects.splice(0)];
    this.#add(rest.map((file) => unreadable(file, problem)));
  }

  #add(rows: readonly ShelfRow[]): void {
    for (const row of rows) this.#rows.push(row);
    this.#options.onProgress?.(this.#rows.length, this.#given);
  }
}

/** Tried again the next time. */
function unreadable({ file }: BoutFile, problem: string): ShelfRow {
  return { is: "unreadable", file, ...notLookedAt, problem };
}

class ReadingThread {
  readonly #thread: Worker;
  readonly #progress = new Int32Array(new SharedArrayBuffer(4));
  readonly #patience: number;
  readonly #signal: AbortSignal | undefined;

  constructor({ worker, patience = usualPatience, signal }: PoolOptions) {
    this.#patience = patience;
    this.#signal = signal;
    this.#thread = new Worker(worker, {
      workerData: this.#progress.buffer,
      resourceLimits: { maxYoungGenerationSizeMb: forTheMoment },
    });
  }

  /** Files read of those it was given last. */
  get done(): number {
    return Atomics.load(this.#progress, 0);
  }

  async end(): Promise<void> {
    await this.#thread.terminate();
  }

  /** Throws where the thread dies, hangs or is stopped. */
  read(files: readonly BoutFile[]): Promise<readonly ShelfRow[]> {
    Atomics.store(this.#progress, 0, 0);
    return new Promise((resolve, reject) => {
      const thread = this.#thread;
      const done = (rows: readonly ShelfRow[]) => settle(() => resolve(rows));
      const failed = (error: unknown) =>
        settle(() => reject(error instanceof Error ? error : new Error(String(error))));
      const ended = (code: number) => failed(new Error(`it ended with ${code}`));
      const stopped = () => done([]);
      const watch = this.#watch(files, (seconds) => failed(new Error(`it hung for ${seconds} s`)));
      const settle = (act: () => void) => {
        clearInterval(watch);
        thread.off("message", done).off("error", failed).off("exit", ended);
        this.#signal?.removeEventListener("abort", stopped);
        act();
      };
      thread.on("message", done).on("error", failed).on("exit", ended);
      this.#signal?.addEventListener("abort", stopped);
      thread.postMessage(files);
    });
  }

  /** Counts its own ticks and looks at no clock: a machine that was asleep has not waited. */
  #watch(files: readonly BoutFile[], hung: (seconds: number) => void): NodeJS.Timeout {
    let [seen, ticks] = [0, 0];
    const tick = Math.min(1, this.#patience / 4);
    return setInterval(() => {
      const { done } = this;
      if (done !== seen) [seen, ticks] = [done, 0];
      const size = Math.max(0, files[done]?.size ?? 0);
      const most = this.#patience + (size / 1e6) * patiencePerMegabyte;
      if (++ticks * tick > most) hung(Math.round(ticks * tick));
    }, tick * 1000);
  }
}
