// What is in a recording, and will desktop VS Code play it?

import { type Result, success } from "../bout/result";
import type { Metadata } from "./listing";
import { pictureOf, readingOf, type Reading } from "./frame-index";
import type { VideoOptions, VideoProblem } from "./problem";

/** Times in seconds. */
export interface Probe {
  readonly frames: number;
  /** Presentation times of the first and the last frame, as the file has them. */
  readonly first: number;
  readonly last: number;
  /** Time of the earliest picture or sound. */
  readonly start: number;
  readonly duration: number;
  readonly codec: string;
  /** Pixels as stored, before rotation. */
  readonly width: number;
  readonly height: number;
  /** Degrees clockwise to turn it upright: 0, 90, 180, 270. */
  readonly rotation: number;
  /** Each frame is two fields, taken one after the other. */
  readonly interlaced: boolean;
  /** Frames a second, on average; 0 for a single frame. */
  readonly rate: number;
  /** Whether the time from frame to frame varies. */
  readonly variable: boolean;
  readonly keyFrames: number;
  /** Frames. */
  readonly longestGop: number;
  /** Codec of the sound; null without sound. */
  readonly audio: string | null;
  /** By desktop VS Code; silent: the picture without its sound. */
  readonly playable: "yes" | "no" | "silent";
}

export async function probe(file: string, options: VideoOptions): Promise<Result<Probe, VideoProblem>> {
  const reading = await readingOf(file, options);
  return reading.ok ? success(summaryOf(reading.value)) : reading;
}

export function summaryOf({ metadata, index }: Reading): Probe {
  const { times, first, keyFrames, longestGop } = index;
  const picture = pictureOf(metadata.streams);
  const sound = metadata.streams.find(({ kind }) => kind === "audio");
  const length = times.at(-1) ?? 0;
  const rate = length > 0 ? (times.length - 1) / length : 0;
  const [numerator, denominator] = picture?.tick ?? [0, 1];
  return {
    frames: times.length,
    first,
    last: first + length,
    start: metadata.start,
    duration: metadata.duration ?? length + (rate > 0 ? 1 / rate : 0),
    codec: picture?.codec ?? "unknown",
    width: picture?.width ?? 0,
    height: picture?.height ?? 0,
    rotation: picture?.rotation ?? 0,
    interlaced: picture?.interlaced ?? false,
    rate,
    variable: varies(times, numerator / denominator),
    keyFrames,
    longestGop,
    audio: sound?.codec ?? null,
    playable: playableOnDesktop(metadata),
  };
}

/** Whether some frame lasts longer or shorter than rounding to milliseconds, or to the clock's ticks, can explain. */
export function varies(times: Float64Array, tick: number): boolean {
  const gaps = times.subarray(1).map((time, index) => time - (times[index] ?? 0));
  const median = gaps.toSorted()[gaps.length >> 1] ?? 0;
  const tolerance = Math.min(Math.max(0.0015, 1.5 * tick), median / 2);
  return gaps.some((gap) => Math.abs(gap - median) > tolerance);
}

/**
 * Desktop VS Code decodes H.264 and VP8, MP3, FLAC, Vorbis and plain samples, and opens MP4, Ogg and sound files, not
 * WebM or Matroska (code.visualstudio.com/api/extension-guides/webview, "Supported media formats"; its issue tracker).
 * That leaves H.264 in MP4. Ten-bit and 4:2:2 pictures are counted as not playable for want of a measurement.
 */
export function playableOnDesktop({ formats, streams }: Metadata): Probe["playable"] {
  const picture = pictureOf(streams);
  const shown =
    formats.includes("mp4") && picture?.codec === "h264" && /^yuvj?420p$/.test(picture.pixelFormat);
  if (!shown) return "no";
  const heard = streams
    .filter(({ kind }) => kind === "audio")
    .every(({ codec }) => /^(mp3|flac|vorbis|pcm_\w+)$/.test(codec));
  return heard ? "yes" : "silent";
}
