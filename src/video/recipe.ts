// Which viewing copy a recording needs, and how ffmpeg makes it: options as values.

import type { Metadata, Stream } from "./ffmpeg";
import { type FrameIndex, pictureOf } from "./frame-index";
import type { Probe } from "./probe";
import type { Program } from "./programs";

/** sound: the picture as it is, the sound converted; whole: both made anew. */
export type CopyKind = "sound" | "whole";

/** Frames from one key frame to the next in a copy, at most. A seek then took 0.07 s, the original's 0.9 s (measured). */
export const copyGop = 12;

/**
 * Pixels a seek may have to decode before it shows a frame: 30 frames of 1280 by 720, a tenth of a second and more of
 * decoding without a graphics card's help (common practice, no source).
 */
const mostPixelsForOneSeek = 30 * 1280 * 720;

/** Which copy a recording needs where it plays as `playable` says: by default a guess for desktop VS Code. */
export function whichCopy(
  { longestGop, width, height, interlaced, audio, playable: guess }: Probe,
  playable: Probe["playable"] = guess,
): "none" | CopyKind {
  const slow = longestGop > copyGop && longestGop * width * height > mostPixelsForOneSeek;
  if (playable === "no" || interlaced || slow) return "whole";
  return playable === "silent" && audio !== null ? "sound" : "none";
}

/** Size of the upright picture in a copy: even numbers, square pixels, never more lines than it has. */
export function copySize(
  { width, height, rotation, pixelShape }: Pick<Stream, "width" | "height" | "rotation" | "pixelShape">,
  lines: number,
): { readonly width: number; readonly height: number } {
  const wide = width * pixelShape;
  const [across, down] = rotation % 180 === 0 ? [wide, height] : [height, wide];
  const copied = Math.max(2, 2 * Math.floor(Math.min(lines, down) / 2));
  return { width: Math.max(2, 2 * Math.round((across * copied) / down / 2)), height: copied };
}

/** ffmpeg's output options for a copy, empty where there is no picture. Its clock is that of the recording, from zero. */
export function copyOptions(
  kind: CopyKind,
  { streams, start }: Metadata,
  { times, first }: FrameIndex,
  lines: number,
  { version }: Pick<Program, "version">,
): string[] {
  const picture = pictureOf(streams);
  if (picture === undefined) return [];
  const clock = clockOf(picture);
  const { width, height } = copySize(picture, lines);
  const filters = [
    ...(picture.interlaced ? ["bwdif=mode=send_frame:parity=auto:deint=interlaced"] : []),
    `scale=${width}:${height}:flags=bicubic`,
    "setsar=1",
  ];
  const made = [
    ...["-c:v", "libx264", "-preset", "veryfast", "-crf", "22", "-pix_fmt", "yuv420p", "-vf", filters.join()],
    ...["-g", String(copyGop), "-keyint_min", String(copyGop), "-sc_threshold", "0", "-bf", "0"],
    // Before 5.1 `-fps_mode` was called `-vsync` (ffmpeg's Changelog).
    ...[/^n?5\.0\b/.test(version) ? "-vsync" : "-fps_mode", "passthrough"],
    ...["-enc_time_base:v", `${clock.numerator}/${clock.denominator}`],
    ...["-video_track_timescale", String(clock.denominator), "-movie_timescale", String(clock.denominator)],
  ];
  // Sound far from any picture would be filled up with silence: its clock is damaged.
  const after = first - start + (times.at(-1) ?? 0) + 1;
  const sound = soundOf(streams);
  return [
    ...["-map", `0:${picture.index}`, ...(kind === "sound" ? ["-c:v", "copy"] : made)],
    ...(sound === undefined
      ? []
      : ["-map", `0:${sound.index}`, "-c:a", "libmp3lame", "-q:a", "4", "-af", soundFilter(after, 0)]),
    // Titles, and where a phone was.
    ...["-map_metadata", "-1", "-map_chapters", "-1", "-f", "mp4"],
  ];
}

/** The sound a copy has. */
export function soundOf(streams: readonly Stream[]): Stream | undefined {
  return streams.find(({ kind }) => kind === "audio");
}

/** Keeps sound in step with the picture: gaps become silence, at the beginning too. `from` is in samples. */
function soundFilter(end: number, from: number): string {
  return `atrim=end=${end.toFixed(6)},aresample=async=1:first_pts=${from},aformat=channel_layouts=mono|stereo`;
}

/** Loudest possible sample from the picture's first frame on: one channel, so many samples a second. */
export function peakOptions(
  sound: Stream,
  { start }: Metadata,
  { times, first }: FrameIndex,
  rate: number,
): string[] {
  const end = first - start + (times.at(-1) ?? 0) + 1;
  const filter = [
    `atrim=end=${end.toFixed(6)}`,
    `aresample=${rate}:async=1:first_pts=${Math.round((first - start) * rate)}`,
    "aformat=sample_fmts=s16:channel_layouts=mono",
  ].join();
  return ["-map", `0:${sound.index}`, "-vn", "-af", filter, "-f", "s16le"];
}

/** A tick that says every frame's time: the picture's own, unless too fine for an MP4. */
function clockOf({ tick: [numerator, denominator] }: Stream): {
  readonly numerator: number;
  readonly denominator: number;
} {
  const fits = numerator > 0 && denominator >= 1000 && denominator <= 1_000_000;
  return fits ? { numerator, denominator } : { numerator: 1, denominator: 90_000 };
}
