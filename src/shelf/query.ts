// One question in SQL about the phrases of many bouts, answered in a thread that can be ended at any moment.

import { Worker } from "node:worker_threads";
import { failure, success, type Result } from "../bout/result";
import type { NamedBout } from "./bouts";

export type ResultCell = string | number | null;

export interface QueryAnswer {
  readonly columns: readonly string[];
  readonly rows: readonly (readonly ResultCell[])[];
  /** There were more rows than `mostRows`. */
  readonly cut: boolean;
  /** How many phrases were asked. */
  readonly phrases: number;
  readonly leftOut: readonly { readonly file: string; readonly message: string }[];
}

export interface QueryJob {
  readonly sql: string;
  readonly bouts: readonly NamedBout[];
  readonly mostRows: number;
}

/** From the thread: once when the table stands, then the answer or why there is none. */
export type FromThread =
  | { readonly is: "ready" }
  | { readonly is: "answer"; readonly answer: QueryAnswer }
  | { readonly is: "refused"; readonly problem: string };

export interface QueryLimits {
  /** Seconds for the question itself; reading the files is not counted. */
  readonly seconds: number;
  readonly mostRows: number;
}

export const usualLimits: QueryLimits = { seconds: 10, mostRows: 10_000 };

/** `worker` is the thread's script, `dist/query-worker.js`; `sqlite3.wasm` lies beside it. The failure says what is wrong
 * with the question. */
export function queryPhrases(
  worker: string,
  sql: string,
  bouts: readonly NamedBout[],
  { seconds, mostRows }: QueryLimits = usualLimits,
  signal?: AbortSignal,
): Promise<Result<QueryAnswer, string>> {
  const job: QueryJob = { sql, bouts, mostRows };
  return new Promise((resolve) => {
    const thread = new Worker(worker, {
      workerData: job,
      // What SQLite or a library prints must not get among the answer.
      stdout: true,
      stderr: true,
      resourceLimits: { maxOldGenerationSizeMb: 1024 },
    });
    let clock: NodeJS.Timeout | undefined;
    let settled = false;
    const settle = (result: Result<QueryAnswer, string>) => {
      if (settled) return;
      settled = true;
      clearTimeout(clock);
      signal?.removeEventListener("abort", stopped);
      void thread.terminate().then(() => resolve(result));
    };
    const stopped = () => settle(failure("stopped"));
    signal?.addEventListener("abort", stopped);
    if (signal?.aborted === true) stopped();
    thread.on("message", (message: FromThread) => {
      if (message.is === "ready")
        clock = setTimeout(
          () =>
            settle(
              failure(
                `the query took longer than ${seconds} s and was stopped; ask for less, or of fewer bouts`,
              ),
            ),
          seconds * 1000,
        );
      else settle(message.is === "answer" ? success(message.answer) : failure(message.problem));
    });
    thread.on("error", (error) => settle(failure(`the query came to grief (${error.message})`)));
    thread.on("exit", () => settle(failure("the query ended before it had an answer")));
  });
}
