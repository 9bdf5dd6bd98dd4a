// The one door to fluent-ffmpeg: what a recording's container says of itself, and ffmpeg run from a recording to a file or
// to a stream of bytes.

import type { ChildProcess } from "node:child_process";
import { subscribe, unsubscribe } from "node:diagnostics_channel";
import os from "node:os";
import type { Writable } from "node:stream";
import ffmpeg from "fluent-ffmpeg";
import { failure, type Result, success } from "../bout/result";
import { givenUp, unreadable } from "./complaint";
import type { VideoProblem } from "./problem";
import { end, endWithUs } from "./process";
import type { Program } from "./programs";
import { named, reach } from "./reach";

export interface Stream {
  /** Place in the file, from 0. */
  readonly index: number;
  readonly kind: "video" | "audio";
  readonly codec: string;
  /** Pixels as stored, before rotation; 0 for sound. */
  readonly width: number;
  readonly height: number;
  /** Degrees clockwise to turn the stored picture upright: 0, 90, 180, 270. */
  readonly rotation: number;
  readonly pixelFormat: string;
  /** Width of a stored pixel over its height; 1 where the container does not say. */
  readonly pixelShape: number;
  /** Whether each frame is two fields taken one after the other. */
  readonly interlaced: boolean;
  /** Seconds one tick of its clock lasts, as a fraction. */
  readonly tick: readonly [number, number];
}

export interface Metadata {
  /** Names of the container format, as ffprobe lists them. */
  readonly formats: readonly string[];
  /** Seconds; null where the container does not say. */
  readonly duration: number | null;
  /** Time of the earliest picture or sound, in seconds. */
  readonly start: number;
  /** Cover pictures left out. */
  readonly streams: readonly Stream[];
}

const wanted = [
  "stream=index,codec_name,codec_type,width,height,pix_fmt,time_base,rotation,sample_aspect_ratio,field_order",
  "stream_disposition=attached_pic",
  // Free text could hold lines that look like ffprobe's own.
  "stream_tags=none",
  "format_tags=none",
  "format=format_name,start_time,duration",
].join(":");

/** What the container says of itself. */
export async function readMetadata(
  { path }: Program,
  file: string,
  signal: AbortSignal,
): Promise<Result<Metadata, VideoProblem>> {
  const options = ["-v", "error", ...reach, "-show_entries", wanted];
  let stop = () => {};
  const answered = await new Promise<ffmpeg.FfprobeData | Error>((resolve) => {
    const command = ffmpeg(named(file)).setFfprobePath(path);
    const child = childStartedBy(() =>
      command.ffprobe(options, (error: unknown, data) => resolve(error instanceof Error ? error : data)),
    );
    if (child !== undefined) endWithUs(child);
    stop = () => {
      if (child !== undefined) end(child);
      resolve(new Error("Given up."));
    };
    if (signal.aborted) stop();
    else signal.addEventListener("abort", stop, { once: true });
  });
  signal.removeEventListener("abort", stop);
  if (signal.aborted) return failure(givenUp(signal, file));
  if (answered instanceof Error) return failure(unreadable(file, answered.message));
  const { format, streams } = answered;
  return success({
    formats: (format.format_name ?? "").split(","),
    duration: finite(format.duration),
    start: finite(format.start_time) ?? 0,
    streams: streams.flatMap(streamOf),
  });
}

/** fluent-ffmpeg keeps the process of `ffprobe()` to itself, so nobody could end it. With its path set beforehand it
 * starts the process at once, and Node tells who was started. */
function childStartedBy(start: () => void): ChildProcess | undefined {
  let started: ChildProcess | undefined;
  const note = (message: unknown) => {
    started = (message as { process: ChildProcess }).process;
  };
  subscribe("child_process", note);
  try {
    start();
  } finally {
    unsubscribe("child_process", note);
  }
  return started;
}

function streamOf(raw: ffmpeg.FfprobeStream): Stream[] {
  const kind = raw.codec_type;
  if ((kind !== "video" && kind !== "audio") || raw.disposition?.attached_pic === 1) return [];
  const [numerator = 0, denominator = 1] = (raw.time_base ?? "").split("/").map(Number);
  return [
    {
      index: raw.index,
      kind,
      codec: raw.codec_name ?? "unknown",
      width: raw.width ?? 0,
      height: raw.height ?? 0,
      // ffprobe counts the other way round.
      rotation: (360 - Math.round(finite(raw.rotation) ?? 0)) % 360,
      pixelFormat: raw.pix_fmt ?? "",
      pixelShape: ratioOf(raw.sample_aspect_ratio),
      interlaced: /^(tt|bb|tb|bt)$/.test(raw.field_order ?? ""),
      tick: [numerator, denominator],
    },
  ];
}

/** Of "64:45"; 1 for "0:1" and "N/A". */
function ratioOf(text: string | undefined): number {
  const [width = NaN, height = NaN] = (text ?? "").split(":").map(Number);
  return width > 0 && height > 0 ? width / height : 1;
}

/** fluent-ffmpeg turns numbers into numbers, but leaves negative ones text. */
function finite(value: unknown): number | null {
  const number = typeof value === "string" || typeof value === "number" ? Number(value) : NaN;
  return Number.isFinite(number) ? number : null;
}

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
