// A few threads that read bout files side by side. They are started for one job and gone after it.

import { availableParallelism } from "node:os";
import { Worker } from "node:worker_threads";
import type { ShelfRow } from "./row";

/** Files a thread is given at a time: few enough that both end together, enough that handing over costs little. */
const batch = 32;
const mostThreads = 4;

export interface PoolOptions {
  /** The script of the thread, `dist/shelf-worker.js`. */
  readonly worker: string;
  readonly onProgress?: ((done: number, of: number) => void) | undefined;
  readonly signal?: AbortSignal | undefined;
}

/** The rows of the files, in their order; fewer where it was stopped. A thread that comes to grief takes only the files it
 * had down with it, which are then told as unreadable. */
export async function readInThreads(files: readonly string[], options: PoolOptions): Promise<ShelfRow[]> {
  const rows = new Map<string, ShelfRow>();
  const job = { files, next: 0, rows, ...options };
  const threads = Math.min(mostThreads, availableParallelism(), Math.ceil(files.length / batch));
  await Promise.all(Array.from({ length: threads }, () => workThrough(job)));
  return files.flatMap((file) => rows.get(file) ?? []);
}

interface Job extends PoolOptions {
  readonly files: readonly string[];
  next: number;
  readonly rows: Map<string, ShelfRow>;
}

/** One thread after another until nothing is left: the next one takes over where one has ended before its time. */
async function workThrough(job: Job): Promise<void> {
  while (job.next < job.files.length && job.signal?.aborted !== true) {
    const thread = new Worker(job.worker);
    try {
      await feed(job, thread);
    } finally {
      await thread.terminate();
    }
  }
}

async function feed(job: Job, thread: Worker): Promise<void> {
  while (job.next < job.files.length && job.signal?.aborted !== true) {
    const given = job.files.slice(job.next, job.next + batch);
    job.next += given.length;
    try {
      for (const row of await answerOf(thread, given)) job.rows.set(row.file, row);
    } catch (error) {
      const problem = `the thread that read this came to grief (${String(error)})`;
      for (const file of given)
        job.rows.set(file, { is: "unreadable", file, size: -1, modified: 0, problem });
      return;
    } finally {
      job.onProgress?.(job.rows.size, job.files.length);
    }
  }
}

function answerOf(thread: Worker, files: readonly string[]): Promise<readonly ShelfRow[]> {
  return new Promise((resolve, reject) => {
    const done = (rows: readonly ShelfRow[]) => settle(() => resolve(rows));
    const failed = (error: unknown) => settle(() => reject(error instanceof Error ? error : new Error("?")));
    const ended = (code: number) => failed(new Error(`it ended with ${code}`));
    const settle = (act: () => void) => {
      thread.off("message", done).off("error", failed).off("exit", ended);
      act();
    };
    thread.on("message", done).on("error", failed).on("exit", ended);
    thread.postMessage(files);
  });
}
