// A brief made in a thread of its own, so that the editor stays quick however many bouts there are. The thread keeps what
// it has read until it is ended.

import { Worker } from "node:worker_threads";
import { failure, type Result } from "../bout/result";
import type { Brief, BriefEvidence, ShownPlan, WrittenPlan } from "../figures/brief";
import type { BriefFile, NamedEvidence, UnreadBout } from "./brief-bouts";

export interface BriefAsked {
  readonly files: readonly BriefFile[];
  readonly fencer: string;
  readonly against: string | undefined;
  /** Reads again what has not changed itself: an edition has. */
  readonly afresh: boolean;
}

export interface BriefMade {
  readonly brief: Brief;
  readonly leftOut: readonly UnreadBout[];
}

type Asked =
  | ({ readonly do: "brief" } & BriefAsked)
  | { readonly do: "plan"; readonly plan: WrittenPlan | undefined; readonly folder: string }
  | { readonly do: "named"; readonly evidence: BriefEvidence };
export type AskedOfThread = Asked & { readonly ask: number };
export type FromBriefThread =
  | { readonly ask: number; readonly is: "progress"; readonly done: number; readonly of: number }
  | { readonly ask: number; readonly is: "answer"; readonly answer: Result<unknown, string> };

interface Waiting {
  readonly answered: (answer: Result<unknown, string>) => void;
  readonly progress: ((done: number, of: number) => void) | undefined;
}

/** What is answered to questions a stopped thread has left open. */
export const stopped = "stopped";

export class BriefThread {
  readonly #script: string;
  readonly #waiting = new Map<number, Waiting>();
  #thread: Worker | undefined;
  #asked = 0;

  /** `script`: `dist/brief-worker.js`. */
  constructor(script: string) {
    this.#script = script;
  }

  brief(asked: BriefAsked, progress: (done: number, of: number) => void): Promise<Result<BriefMade, string>> {
    return this.#ask({ do: "brief", ...asked }, progress) as Promise<Result<BriefMade, string>>;
  }

  /** Of the brief made last. */
  plan(plan: WrittenPlan | undefined, folder: string): Promise<Result<ShownPlan, string>> {
    return this.#ask({ do: "plan", plan, folder }) as Promise<Result<ShownPlan, string>>;
  }

  /** Evidence of the brief made last. */
  named(evidence: BriefEvidence): Promise<Result<readonly NamedEvidence[], string>> {
    return this.#ask({ do: "named", evidence }) as Promise<Result<readonly NamedEvidence[], string>>;
  }

  /** Ends the thread; what it had not answered is answered with "stopped". The next question starts another. */
  async stop(): Promise<void> {
    const thread = this.#thread;
    this.#thread = undefined;
    this.#answerAll(stopped);
    await thread?.terminate();
  }

  #ask(asked: Asked, progress?: (done: number, of: number) => void): Promise<Result<unknown, string>> {
    const ask = ++this.#asked;
    const thread = (this.#thread ??= this.#start());
    return new Promise((resolve) => {
      this.#waiting.set(ask, { answered: resolve, progress });
      const message: AskedOfThread = { ask, ...asked };
      thread.postMessage(message);
    });
  }

  #start(): Worker {
    const thread = new Worker(this.#script);
    const over = (why: string) => {
      if (this.#thread !== thread) return;
      this.#thread = undefined;
      this.#answerAll(why);
    };
    thread.on("message", (message: FromBriefThread) => {
      const waiting = this.#waiting.get(message.ask);
      if (waiting === undefined) return;
      if (message.is === "progress") waiting.progress?.(message.done, message.of);
      else {
        this.#waiting.delete(message.ask);
        waiting.answered(message.answer);
      }
    });
    thread.on("error", (error) => over(`the thread that makes it came to grief (${error.message})`));
    thread.on("exit", () => over("the thread that makes it ended before it had an answer"));
    return thread;
  }

  #answerAll(why: string): void {
    const waiting = [...this.#waiting.values()];
    this.#waiting.clear();
    for (const { answered } of waiting) answered(failure(why));
  }
}
