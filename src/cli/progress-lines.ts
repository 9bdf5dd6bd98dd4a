// How far long work on several files is: one line that is written over on a terminal, a line now and then elsewhere.

import path from "node:path";
import type { CopyProgress } from "../video/index";
import { plain } from "./lines";

/** What is known of the stream the lines go to. */
export interface Terminal {
  readonly isTTY?: boolean;
  readonly columns?: number;
}

/** Where lines stay, one for each step of so much. */
const step = 0.1;
/** On a terminal, milliseconds from one to the next. */
const pause = 250;

export class ProgressLines {
  readonly #files: number;
  readonly #write: (text: string) => void;
  readonly #terminal: Terminal;
  readonly #now = new Map<string, CopyProgress>();
  readonly #told = new Map<string, number>();
  #finished = 0;
  #last = -Infinity;

  constructor(files: number, write: (text: string) => void, terminal: Terminal) {
    this.#files = files;
    this.#write = write;
    this.#terminal = terminal;
  }

  show(file: string, now: CopyProgress): void {
    this.#now.set(file, now);
    if (this.#terminal.isTTY === true) {
      if (performance.now() - this.#last < pause) return;
      this.#last = performance.now();
      this.#overwrite(this.#line());
      return;
    }
    const reached = now.state === "working" ? Math.floor(now.share / step) : -1;
    if (reached <= (this.#told.get(file) ?? 0)) return;
    this.#told.set(file, reached);
    this.#write(`${plain(textOf(file, now))}\n`);
  }

  done(file: string): void {
    this.#now.delete(file);
    this.#finished += 1;
  }

  /** Leaves the line empty. */
  end(): void {
    if (this.#terminal.isTTY === true) this.#overwrite("");
  }

  #line(): string {
    const working = [...this.#now].filter(([, { state }]) => state !== "waiting");
    const parts = working.map(([file, now]) => textOf(path.basename(file), now));
    return [`${this.#finished} of ${this.#files} done`, ...parts].join("; ");
  }

  #overwrite(line: string): void {
    // Back to the first column, the rest of the line taken away (ECMA-48, CR and EL).
    this.#write(`\r${plain(line).slice(0, (this.#terminal.columns ?? 80) - 1)}\u001b[K`);
  }
}

function textOf(file: string, { share, secondsLeft, state }: CopyProgress): string {
  const percent = `${Math.floor(100 * share)} %`;
  switch (state) {
    case "waiting":
      return `${file}: waiting`;
    case "elsewhere":
      return `${file}: made elsewhere, ${percent}`;
    case "checking":
      return `${file}: checking frame times`;
    case "working":
      return `${file}: ${percent}${secondsLeft === null ? "" : `, ${duration(secondsLeft)} left`}`;
  }
}

/** `0:05` or `1:02:05`. */
function duration(seconds: number): string {
  const whole = Math.ceil(seconds);
  const two = (part: number) => String(part).padStart(2, "0");
  const [hours, minutes, rest] = [Math.floor(whole / 3600), Math.floor(whole / 60) % 60, whole % 60];
  return hours > 0 ? `${hours}:${two(minutes)}:${two(rest)}` : `${minutes}:${two(rest)}`;
}
