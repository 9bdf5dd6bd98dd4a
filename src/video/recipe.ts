// Which viewing copy a recording needs, and how ffmpeg makes it: options as values.

import type { Metadata, Stream } from "./listing";
import { type FrameIndex, pictureOf } from "./frame-index";
import type { Probe } from "./probe";
import type { Program } from "./programs";

/** sound: the picture as it is, the sound converted; whole: both made anew. */
export type CopyKind = "sound" | "whole";

/**
 * Frames from one key frame to the next in a copy, at most. Side by side a seek took 0.82 of the time without what
 * `fastdecode` leaves out, and 0.70 with six frames in place of twelve as well, for 1.4 times the bytes (1.9 times for a
 * drawing); three frames brought nothing more (measured).
 */
export const copyGop = 6;

/** Frames from one key frame to the next that need no copy, however large: a copy would bring little. */
const nearEnough = 12;

/**
 * Pixels a seek may have to decode before it shows a frame: 30 frames of 1280 by 720, a tenth of a second and more of
 * decoding without a graphics card's help (common practice, no source).
 */
const mostPixelsForOneSeek = 30 * 1280 * 720;

/** Which copy a recording needs where it plays as `playable` says: by default a guess for desktop VS Code. */
export function whichCopy(
  { codec, longestGop, width, height, interlaced, audio, playable: guess }: Probe,
  playable: Probe["playable"] = guess,
): "none" | CopyKind {
  const slow = longestGop > nearEnough && longestGop * width * height > mostPixelsForOneSeek;
  if (playable === "no" || interlaced || slow) return "whole";
  if (playable === "yes" || audio === null) return "none";
  // Not every picture a browser shows may stand in an MP4.
  return codec === "h264" ? "sound" : "whole";
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

/** ffmpeg's output options for a copy, empty where there is no picture. Its clock is the bout's, 0 at the first frame. */
export function copyOptions(
  kind: CopyKind,
  { streams }: Metadata,
  index: FrameIndex,
  lines: number,
  { version }: Pick<Program, "version">,
): string[] {
  const picture = pictureOf(streams);
  if (picture === undefined) return [];
  const clock = clockOf(picture);
  const { width, height } = copySize(picture, lines);
  const filters = [
    `setpts=${fromFirst(index)}`,
    ...(picture.interlaced ? ["bwdif=mode=send_frame:parity=auto:deint=interlaced"] : []),
    `scale=${width}:${height}:flags=bicubic`,
    "setsar=1",
  ];
  const made = [
    ...["-c:v", "libx264", "-preset", "veryfast", "-tune", "fastdecode", "-crf", "22", "-pix_fmt", "yuv420p"],
    ...["-vf", filters.join()],
    ...["-g", String(copyGop), "-keyint_min", String(copyGop), "-sc_threshold", "0", "-bf", "0"],
    // Before 5.1 `-fps_mode` was called `-vsync` (ffmpeg's Changelog).
    ...[/^n?5\.0\b/.test(version) ? "-vsync" : "-fps_mode", "passthrough"],
    ...["-enc_time_base:v", `${clock.numerator}/${clock.denominator}`],
    ...["-video_track_timescale", String(clock.denominator), "-movie_timescale", String(clock.denominator)],
  ];
  const sound = soundOf(streams);
  return [
    ...["-map", `0:${picture.index}`, ...(kind === "sound" ? copied(picture, index) : made)],
    ...(sound === undefined
      ? []
      : ["-map", `0:${sound.index}`, "-c:a", "libmp3lame", "-q:a", "4", "-af", soundFilter(index)]),
    // Titles, and where a phone was.
    ...["-map_metadata", "-1", "-map_chapters", "-1", "-f", "mp4"],
  ];
}

/** The sound a copy has. */
export function soundOf(streams: readonly Stream[]): Stream | undefined {
  return streams.find(({ kind }) => kind === "audio");
}

/** The stored picture, its clock set to 0 at the first frame. */
function copied({ tick: [numerator, denominator] }: Stream, { first }: FrameIndex): string[] {
  const ticks = Math.round((first * denominator) / numerator);
  return ["-c:v", "copy", "-bsf:v", `setts=pts=PTS-(${ticks}):dts=DTS-(${ticks})`];
}

/** Time from the first frame, as a filter writes it. */
function fromFirst({ first }: FrameIndex): string {
  return `round(PTS-(${first.toFixed(9)})/TB)`;
}

/** Sound in step with the picture, from its first frame to a second after its last: gaps become silence. */
function soundFilter(index: FrameIndex, rate?: number): string {
  // Sound far from any picture would be filled up with silence for hours: its clock is damaged.
  const end = (index.times.at(-1) ?? 0) + 1;
  return [
    `asetpts=${fromFirst(index)}`,
    `atrim=start=0:end=${end.toFixed(6)}`,
    `aresample=${rate === undefined ? "" : `${rate}:`}async=1:first_pts=0`,
    `aformat=channel_layouts=${rate === undefined ? "mono|stereo" : "mono"}`,
  ].join();
}

/** The sound as bare 16-bit samples of one channel, so many a second. */
export function peakOptions(sound: Stream, index: FrameIndex, rate: number): string[] {
  return [
    ...["-map", `0:${sound.index}`, "-af", soundFilter(index, rate)],
    ...["-c:a", "pcm_s16le", "-f", "s16le"],
  ];
}

/** A tick that says every frame's time: the picture's own, unless too fine for an MP4. */
export function clockOf({ tick: [numerator, denominator] }: Stream): {
  readonly numerator: number;
  readonly denominator: number;
} {
  const fits = numerator > 0 && denominator >= 1000 && denominator <= 1_000_000;
  return fits ? { numerator, denominator } : { numerator: 1, denominator: 90_000 };
}
