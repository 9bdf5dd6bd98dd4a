// All that Boutline asks of ffmpeg's programs: which one, is it fit, what does it say of a recording. Every recording is
// named to them in a way that can't reach past it: neither to the network nor to another file.

import type { ChildProcess } from "node:child_process";
import { subscribe, unsubscribe } from "node:diagnostics_channel";
import { stat } from "node:fs/promises";
import ffmpeg from "fluent-ffmpeg";
import { failure, type Result, success } from "../bout/result";
import { installAdvice, locate } from "./locate";
import { type VideoProblem, videoProblem } from "./problem";
import { end, runLines, tooLate } from "./process";

export interface Program {
  readonly path: string;
  /** As it names itself, "5.1.9-0+deb12u1". */
  readonly version: string;
  /** Release series, told from the library inside: builds between releases have no version number. */
  readonly series: number;
}

/**
 * The program by this name: at `setting` (a full path) if given, else on PATH.
 * Releases before 5 are refused; those after 7 are used, though not tested.
 */
export async function findProgram(
  name: "ffprobe" | "ffmpeg",
  setting?: string,
): Promise<Result<Program, VideoProblem>> {
  const found = await locate(name, setting);
  if (found === undefined) {
    const where = setting === undefined ? "not installed" : `not at ${setting}, where the settings say`;
    return failure(videoProblem("program-missing", `${name} is ${where}. ${installAdvice()}`));
  }
  const { mtimeMs, size } = await stat(found);
  const state = `${found} ${size} ${mtimeMs}`;
  const before = known.get(state);
  if (before !== undefined) return success(before);
  const said: string[] = [];
  const { code, complaint } = await runLines(found, ["-version"], AbortSignal.timeout(10_000), (line) =>
    said.push(line),
  );
  const version = new RegExp(`^${name} version (\\S+)`).exec(said[0] ?? "")?.[1];
  const library = /^libavformat\s+(\d+)\./m.exec(said.join("\n"))?.[1];
  if (code !== 0 || version === undefined || library === undefined) {
    const reason = complaint.trim() || "it does not say its version";
    return failure(videoProblem("program-unusable", `${found} can't be used: ${reason}.`));
  }
  // libavformat 58 came with ffmpeg 4, 59 with 5, and so on (ffmpeg.org/download.html lists both for each release).
  const series = Number(library) - 54;
  if (series < 5) {
    const old = `${found} is version ${version}; Boutline needs 5 or newer. ${installAdvice()}`;
    return failure(videoProblem("program-old", old));
  }
  const program = { path: found, version, series };
  known.set(state, program);
  return success(program);
}

/** Programs found fit before, by path, size and time: starting one takes a tenth of a second and more. */
const known = new Map<string, Program>();

/** Protocols and container formats a recording may use. Without the second list a playlist named `.mp4` is followed. */
const reach = [
  "-protocol_whitelist",
  "file,pipe",
  "-format_whitelist",
  "mov,mp4,m4a,3gp,3g2,mj2,matroska,webm,mpegts,mpeg,mpegvideo,avi,asf,mxf,flv,ogg",
];

/** With the prefix a name that begins with "-" or holds ":" is still a name. `file` is a full path. */
function named(file: string): string {
  return `file:${file}`;
}

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
  "stream=index,codec_name,codec_type,width,height,pix_fmt,time_base,rotation",
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
  const answered = await new Promise<ffmpeg.FfprobeData | Error>((resolve) => {
    const command = ffmpeg(named(file)).setFfprobePath(path);
    const child = childStartedBy(() =>
      command.ffprobe(options, (error: unknown, data) => resolve(error instanceof Error ? error : data)),
    );
    const stop = () => {
      if (child !== undefined) end(child);
      resolve(new Error("Given up."));
    };
    if (signal.aborted) stop();
    else signal.addEventListener("abort", stop, { once: true });
  });
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
      tick: [numerator, denominator],
    },
  ];
}

/** fluent-ffmpeg turns numbers into numbers, but leaves negative ones text. */
function finite(value: unknown): number | null {
  const number = typeof value === "string" || typeof value === "number" ? Number(value) : NaN;
  return Number.isFinite(number) ? number : null;
}

/** A packet of a stream, in the order of the file; for pictures one frame. */
export interface Packet {
  /** Presentation time in ticks of the stream's clock. */
  readonly time: number;
  readonly key: boolean;
  /** Needed to decode what follows, never shown: before the beginning that an edit list sets. */
  readonly hidden: boolean;
}

/** Calls `packet` for each packet of a stream that has a time. */
export async function listPackets(
  { path }: Program,
  file: string,
  stream: number,
  signal: AbortSignal,
  packet: (packet: Packet) => void,
): Promise<Result<undefined, VideoProblem>> {
  const what = ["-select_streams", String(stream), "-show_entries", "packet=pts,dts,flags", "-of", "csv=p=0"];
  const options = ["-v", "error", ...reach, ...what, named(file)];
  const { code, complaint } = await runLines(path, options, signal, (line) => {
    const [, shown, decoded, flags = ""] = /^(-?\d+|N\/A),(-?\d+|N\/A),(\S*)/.exec(line) ?? [];
    // Some containers write only the time of decoding. As a set these are the times of showing.
    const time = Number(shown === "N/A" ? decoded : shown);
    if (Number.isFinite(time)) packet({ time, key: flags.includes("K"), hidden: flags.includes("D") });
  });
  if (signal.aborted) return failure(givenUp(signal, file));
  return code === 0 ? success(undefined) : failure(unreadable(file, complaint));
}

function givenUp({ reason }: AbortSignal, file: string): VideoProblem {
  return reason === tooLate
    ? videoProblem("recording-slow", `Reading ${file} took too long and was given up.`)
    : videoProblem("cancelled", `Reading ${file} was cancelled.`);
}

function unreadable(file: string, complaint: string): VideoProblem {
  const reason = complaint
    .split("\n")
    .map((line) =>
      line
        .replaceAll(named(file), "")
        .replace(/^[:\s]+/, "")
        .trim(),
    )
    .filter((line) => line !== "" && !line.startsWith("ffprobe exited"))
    .at(-1);
  return videoProblem(
    "recording-unreadable",
    `${file} can't be read as a recording: ${reason ?? "no reason given"}.`,
  );
}
