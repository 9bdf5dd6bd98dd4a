// Runs a program to its end, line by line, and ends it when nobody wants the answer any more.

import { type ChildProcess, spawn } from "node:child_process";
import { type FileHandle, mkdtemp, open, rm } from "node:fs/promises";
import { tmpdir } from "node:os";
import path from "node:path";
import { StringDecoder } from "node:string_decoder";
import { setTimeout as pause } from "node:timers/promises";

/** How long a program may take to end by itself after being asked to. */
const graceMilliseconds = 3000;

/** Programs started and not ended yet; none of them outlives this process. */
const running = new Set<ChildProcess>();
let watching = false;

/** Ends the program at the latest when this process ends. */
export function endWithUs(child: ChildProcess): void {
  running.add(child);
  child.once("exit", () => running.delete(child));
  if (watching) return;
  watching = true;
  process.once("exit", () => {
    for (const left of running) left.kill("SIGKILL");
  });
}

/** Asks a program to end; if it hasn't after three seconds, the system ends it. */
export function end(child: ChildProcess): void {
  if (child.exitCode !== null || child.signalCode !== null) return;
  child.kill("SIGTERM");
  const late = setTimeout(() => child.kill("SIGKILL"), graceMilliseconds);
  child.once("exit", () => clearTimeout(late));
}

/** Reason of a signal whose time ran out. */
export const tooLate = "too late";

/** Does the work under a signal that is aborted with another one, or when the time has run out. Its timer is its own:
 * in Node 20 a timeout joined by `AbortSignal.any` can be collected as garbage and never comes (measured, 20.20). */
export async function within<T>(
  milliseconds: number,
  signal: AbortSignal | undefined,
  work: (signal: AbortSignal) => Promise<T>,
): Promise<T> {
  const stop = new AbortController();
  const cancel = () => stop.abort();
  const timer = setTimeout(() => stop.abort(tooLate), milliseconds);
  signal?.addEventListener("abort", cancel, { once: true });
  if (signal?.aborted === true) cancel();
  try {
    return await work(stop.signal);
  } finally {
    clearTimeout(timer);
    signal?.removeEventListener("abort", cancel);
  }
}

/** Without a sign of life for so long, in milliseconds, a program hangs, or the disk does. */
const longestPause = 5 * 60_000;

/** Does the work under a signal that is aborted with another one, or when the work was not `alive` for five minutes. */
export async function unlessStuck<T>(
  signal: AbortSignal,
  work: (signal: AbortSignal, alive: () => void) => Promise<T>,
  pause = longestPause,
): Promise<T> {
  const stop = new AbortController();
  const cancel = () => stop.abort();
  const timer = setTimeout(() => stop.abort(tooLate), pause);
  signal.addEventListener("abort", cancel, { once: true });
  if (signal.aborted) cancel();
  try {
    return await work(stop.signal, () => timer.refresh());
  } finally {
    clearTimeout(timer);
    signal.removeEventListener("abort", cancel);
  }
}

export interface Ended {
  /** 0 where all went well; null where a signal ended it or it could not be started. */
  readonly code: number | null;
  /** What it said on its error output, or why it could not be started. */
  readonly complaint: string;
}

/** Takes a line of the error output and answers what of it is a complaint; undefined where it is none. */
export type Hearing = (line: string) => string | undefined;

const allIsComplaint: Hearing = (line) => line;

/** Calls `line` with each line of the output. Aborting the signal ends the program. */
export async function runLines(
  program: string,
  options: readonly string[],
  signal: AbortSignal,
  line: (text: string) => void,
  heard: Hearing = allIsComplaint,
): Promise<Ended> {
  const lines = new Lines(line);
  const ended = await run(program, options, signal, heard, "pipe", (text) => lines.take(text));
  lines.end();
  return ended;
}

/**
 * The same for long lists: they go through a file, which is read while it grows, since a pipe is read in thousands of little
 * pieces, which took a fifth of the time of listing a recording (measured). Undefined where there is no room for a file.
 */
export async function runLinesByFile(
  program: string,
  options: readonly string[],
  signal: AbortSignal,
  line: (text: string) => void,
  heard: Hearing = allIsComplaint,
): Promise<Ended | undefined> {
  let folder: string | undefined;
  let file: FileHandle | undefined;
  try {
    folder = await mkdtemp(path.join(tmpdir(), "boutline-list-"));
    file = await open(path.join(folder, "list"), "wx+", 0o600);
  } catch {
    if (folder !== undefined) await removed(folder);
    return undefined;
  }
  try {
    const running = run(program, options, signal, heard, file.fd);
    const lines = new Lines(line);
    for await (const text of piecesOf(file, running)) lines.take(text);
    lines.end();
    return await running;
  } finally {
    await file.close();
    await removed(folder);
  }
}

async function removed(folder: string): Promise<void> {
  await rm(folder, { recursive: true, force: true }).catch(() => undefined);
}

/** Milliseconds between looks at a file that grows. */
const look = 25;

/** All that is in the file once nobody writes to it any more. */
async function* piecesOf(file: FileHandle, writing: Promise<unknown>): AsyncGenerator<string> {
  const decoder = new StringDecoder("utf8");
  const bytes = Buffer.allocUnsafe(1 << 18);
  const over = new AbortController();
  void writing.then(() => over.abort());
  for (let at = 0; ;) {
    const isWhole = over.signal.aborted;
    const { bytesRead } = await file.read(bytes, 0, bytes.length, at);
    at += bytesRead;
    if (bytesRead > 0) yield decoder.write(bytes.subarray(0, bytesRead));
    else if (isWhole) return;
    // A full piece has more behind it.
    if (bytesRead < bytes.length) await pause(look, undefined, over).catch(() => undefined);
  }
}

class Lines {
  #rest = "";
  readonly #line: (text: string) => void;

  constructor(line: (text: string) => void) {
    this.#line = line;
  }

  take(text: string): void {
    const lines = (this.#rest + text).split("\n");
    this.#rest = lines.pop() ?? "";
    for (const whole of lines) this.#line(whole.trimEnd());
  }

  end(): void {
    if (this.#rest !== "") this.#line(this.#rest.trimEnd());
    this.#rest = "";
  }
}

/** `output`: where the program's output goes; a pipe's is given to `take`. */
async function run(
  program: string,
  options: readonly string[],
  signal: AbortSignal,
  heard: Hearing,
  output: "pipe" | number,
  take?: (text: string) => void,
): Promise<Ended> {
  if (signal.aborted) return { code: null, complaint: "" };
  const child = spawn(program, options, { stdio: ["ignore", output, "pipe"], windowsHide: true });
  endWithUs(child);
  const stop = () => {
    end(child);
    // Something it started itself may hold its output open, so don't wait for that.
    child.once("exit", () => {
      child.stdout?.destroy();
      child.stderr?.destroy();
    });
  };
  signal.addEventListener("abort", stop, { once: true });
  let complaint = "";
  const said = new Lines((line) => {
    const bad = heard(line);
    // Enough to explain a failure; a damaged recording complains about every packet.
    if (bad !== undefined && complaint.length < 4000) complaint += `${bad}\n`;
  });
  child.stdout?.setEncoding("utf8").on("data", (text: string) => take?.(text));
  child.stderr?.setEncoding("utf8").on("data", (text: string) => said.take(text));
  try {
    return await new Promise<Ended>((resolve) => {
      child.once("error", ({ message }) => resolve({ code: null, complaint: message }));
      child.once("close", (code) => {
        said.end();
        resolve({ code, complaint });
      });
    });
  } finally {
    signal.removeEventListener("abort", stop);
  }
}
