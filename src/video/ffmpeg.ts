// The one door to fluent-ffmpeg: ffmpeg run from a recording to a file or to a stream of bytes.

import type { ChildProcess } from "node:child_process";
import os from "node:os";
import type { Writable } from "node:stream";
import ffmpeg from "fluent-ffmpeg";
import { end, endWithUs } from "./process";
import type { Program } from "./programs";
import { named, reach } from "./reach";

export interface Work {
  /** Full path of the recording. */
  readonly file: string;
  /** Of the input, besides those that keep it within its own file. */
  readonly before?: readonly string[];
  /** Of the output, as ffmpeg's manual has them; times are those of the recording. */
  readonly options: readonly string[];
  /** A full path, or where the bytes go; that stream must not emit `close`. */
  readonly output: string | Writable;
  readonly signal: AbortSignal;
  /** Seconds of the output written so far. */
  readonly reached?: (seconds: number) => void;
}

/** What became of it; `complaint` is what ffmpeg said last. */
export interface Outcome {
  readonly done: boolean;
  /** Ended by a signal, ours or somebody's. */
  readonly killed: boolean;
  readonly complaint: string;
}

/** Runs ffmpeg to its end. Aborting the signal ends it: the promise resolves when it is gone. */
export async function runFfmpeg({ path }: Program, work: Work): Promise<Outcome> {
  const { file, before = [], options, output, signal, reached } = work;
  if (signal.aborted) return { done: false, killed: true, complaint: "" };
  const command: Started = ffmpeg({ stdoutLines: 1 })
    .setFfmpegPath(path)
    .input(named(file))
    // As one array they would be split at spaces. Without `-copyts` where 0 is depends on the streams that are used, and
    // gaps in transport streams are closed up; an offset of the input would bring that back (seen with 5.1).
    .inputOptions("-nostdin", "-v", "error", "-copyts", ...reach, ...before)
    // Its own `progress` event starts a second ffprobe that would follow a playlist.
    .outputOptions("-progress", "pipe:2", "-nostats", ...options)
    .output(typeof output === "string" ? named(output) : output);
  // Asking ffmpeg for all it can do, before each first run, takes two processes that nobody could end.
  const able = { description: "", canDemux: true, canMux: true };
  Object.assign(command, {
    availableFormats: (found: Found) => found(null, { mp4: able, mpegts: able, s16le: able }),
    availableEncoders: (found: Found) => found(null, {}),
  });
  let complaint = "";
  const complaints = (line: string) => {
    const [, key, value] = /^([a-z0-9_]+)=\s*(\S+)\s*$/.exec(line) ?? [];
    if (key === undefined) {
      if (line.trim() !== "") complaint = `${complaint}${line}\n`.slice(-4000);
    } else if (key === "out_time_us" && Number.isFinite(Number(value))) reached?.(Number(value) / 1e6);
  };
  const stop = () => {
    if (command.ffmpegProc !== undefined) end(command.ffmpegProc);
  };
  try {
    return await new Promise<Outcome>((resolve) => {
      command
        .on("start", () => {
          const child = command.ffmpegProc;
          if (child === undefined) return;
          endWithUs(child);
          letOthersGoFirst(child);
          if (signal.aborted) end(child);
        })
        .on("stderr", complaints)
        .on("error", ({ message }) => {
          resolve({
            done: false,
            killed: message.includes("killed with signal"),
            complaint: complaint || message,
          });
        })
        .on("end", () => resolve({ done: true, killed: false, complaint }));
      signal.addEventListener("abort", stop, { once: true });
      command.run();
    });
  } finally {
    signal.removeEventListener("abort", stop);
  }
}

type Found = (error: null, all: Readonly<Record<string, object>>) => void;
type Started = ffmpeg.FfmpegCommand & { readonly ffmpegProc?: ChildProcess };

/** The editor stays quick while a copy is made beside it. */
function letOthersGoFirst({ pid }: ChildProcess): void {
  try {
    if (pid !== undefined) os.setPriority(pid, os.constants.priority.PRIORITY_BELOW_NORMAL);
  } catch {
    // It may have ended already.
  }
}
