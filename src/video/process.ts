// Runs a program to its end, line by line, and ends it when nobody wants the answer any more.

import { type ChildProcess, spawn } from "node:child_process";

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

/** Calls `line` with each line of the output. Aborting the signal ends the program. */
export async function runLines(
  program: string,
  options: readonly string[],
  signal: AbortSignal,
  line: (text: string) => void,
): Promise<Ended> {
  if (signal.aborted) return { code: null, complaint: "" };
  const child = spawn(program, options, { stdio: ["ignore", "pipe", "pipe"], windowsHide: true });
  endWithUs(child);
  const stop = () => {
    end(child);
    // Something it started itself may hold its output open, so don't wait for that.
    child.once("exit", () => {
      child.stdout.destroy();
      child.stderr.destroy();
    });
  };
  signal.addEventListener("abort", stop, { once: true });
  let rest = "";
  let complaint = "";
  child.stdout.setEncoding("utf8").on("data", (text: string) => {
    const lines = (rest + text).split("\n");
    rest = lines.pop() ?? "";
    for (const whole of lines) line(whole.trimEnd());
  });
  child.stderr.setEncoding("utf8").on("data", (text: string) => {
    // Enough to explain a failure; a damaged recording complains about every packet.
    if (complaint.length < 4000) complaint += text;
  });
  try {
    return await new Promise<Ended>((resolve) => {
      child.once("error", ({ message }) => resolve({ code: null, complaint: message }));
      child.once("close", (code) => {
        if (rest !== "") line(rest.trimEnd());
        resolve({ code, complaint });
      });
    });
  } finally {
    signal.removeEventListener("abort", stop);
  }
}
