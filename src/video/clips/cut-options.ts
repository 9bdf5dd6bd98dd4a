// How ffmpeg cuts one clip: its options as values. The frames are taken out by time, half-way between a frame and its
// neighbours, so that no rounding can move an end by a frame.

import { seekTarget } from "../../bout/frames";
import type { Metadata } from "../listing";
import { type FrameIndex, pictureOf } from "../frame-index";
import type { Program } from "../programs";
import { clockOf, soundOf } from "../recipe";
import type { ClipPlan } from "./plan";

/** A plan with the frames it means. */
export interface Frames {
  readonly first: number;
  readonly last: number;
  /** The last frame that moves, where the picture then stands still. */
  readonly freeze: number | undefined;
  readonly repeat: { readonly first: number; readonly last: number } | undefined;
}

/** Sizes of a picture meant for a message. */
export interface ReelSize {
  readonly width: number;
  readonly height: number;
  /** Frames and bits a second. */
  readonly rate: number;
  readonly bits: number;
  /** Seconds of the reel before this clip. */
  readonly before: number;
}

export interface Sources {
  readonly metadata: Metadata;
  readonly index: FrameIndex;
}

/** Seconds a frame stays, the last one as long as the one before it. */
export function stayOf({ times }: FrameIndex, frame: number): number {
  const own = times[frame] ?? 0;
  return 2 * (seekTarget(times, frame) - own);
}

/** Seconds the clip lasts. */
export function lengthOf(plan: ClipPlan, { index }: Sources, frames: Frames): number {
  const end = timeAt(index, frames.last) + stayOf(index, frames.last);
  const main = end - timeAt(index, frames.first);
  const { repeat } = frames;
  if (repeat === undefined || plan.slowRepeat === undefined) return main;
  const again = timeAt(index, repeat.last) + stayOf(index, repeat.last) - timeAt(index, repeat.first);
  return main + again / plan.slowRepeat.speed;
}

function timeAt({ times }: FrameIndex, frame: number): number {
  return times[frame] ?? 0;
}

/** Options of the input: from a key frame so many seconds and more before the clip; none: from the beginning. */
export function seekOptions({ index }: Sources, { first, repeat }: Frames, margin: number | null): string[] {
  const from = Math.min(timeAt(index, first), repeat === undefined ? Infinity : timeAt(index, repeat.first));
  if (margin === null || from <= margin) return [];
  const at = index.first + from - margin;
  return ["-noaccurate_seek", "-seek_timestamp", "1", "-ss", at.toFixed(6)];
}

export function encodeOptions(
  plan: ClipPlan,
  sources: Sources,
  frames: Frames,
  { version }: Pick<Program, "version">,
  font: string | undefined,
  reel?: ReelSize,
): string[] {
  const { metadata } = sources;
  const picture = pictureOf(metadata.streams);
  if (picture === undefined) return [];
  const clock = clockOf(picture);
  const sound = soundOf(metadata.streams);
  const length = lengthOf(plan, sources, frames);
  const chains = pictureChains(plan, sources, frames, picture.interlaced, font, reel);
  if (sound !== undefined) chains.push(soundChain(plan, sources, frames, sound.index, length));
  else if (reel !== undefined) chains.push(`aevalsrc=0:d=${length.toFixed(6)}:s=48000[sound]`);
  const withSound = sound !== undefined || reel !== undefined;
  const rate =
    reel === undefined
      ? [
          ...[/^n?5\.0\b/.test(version) ? "-vsync" : "-fps_mode", "passthrough"],
          ...["-enc_time_base:v", `${clock.numerator}/${clock.denominator}`],
          ...["-video_track_timescale", String(clock.denominator)],
          ...["-movie_timescale", String(clock.denominator)],
        ]
      : ["-output_ts_offset", reel.before.toFixed(6), "-muxdelay", "0", "-muxpreload", "0"];
  // A clip may begin with what its buffer of a second holds, nine tenths full, besides what flows into it.
  const most = ((reel?.bits ?? 0) * length) / (length + 0.9);
  const kilobits = (bits: number) => `${Math.floor(bits / 1000)}k`;
  return [
    ...["-filter_complex", chains.join(";"), "-map", "[picture]"],
    ...(withSound ? ["-map", "[sound]"] : []),
    ...["-c:v", "libx264", "-preset", "veryfast", "-pix_fmt", "yuv420p", "-bf", "0"],
    ...(reel === undefined
      ? ["-crf", "18", "-g", "50"]
      : [
          // No more bits than the picture needs, and never more than the size allows.
          ...["-crf", "23", "-maxrate", kilobits(most), "-bufsize", kilobits(most), "-g", "90"],
        ]),
    ...rate,
    // Desktop VS Code plays MP3 and not AAC; phones play both.
    ...(withSound ? (reel === undefined ? ["-c:a", "libmp3lame", "-q:a", "2"] : reelSound) : []),
    // Titles, and where a phone was.
    ...["-map_metadata", "-1", "-map_chapters", "-1", "-f", reel === undefined ? "mp4" : "mpegts"],
  ];
}

/** Bits a second of a reel's sound. */
export const reelSoundBits = 64_000;
const reelSound = ["-c:a", "aac", "-b:a", `${reelSoundBits}`, "-ar", "48000", "-ac", "1"];

function pictureChains(
  plan: ClipPlan,
  { metadata, index }: Sources,
  { first, last, freeze, repeat }: Frames,
  interlaced: boolean,
  font: string | undefined,
  reel: ReelSize | undefined,
): string[] {
  const before = interlaced ? ["bwdif=mode=send_frame:parity=auto:deint=interlaced"] : [];
  const boxes = (plan.boxes ?? []).map(
    ({ x, y, width, height }) =>
      `drawbox=${covered("x", "w", x, width)}:${covered("y", "h", y, height)}:color=black:t=fill`,
  );
  // An odd width or height can't be stored with colours at half the resolution.
  const even = "crop=trunc(iw/2)*2:trunc(ih/2)*2:0:0";
  const text =
    plan.burnIn === undefined || font === undefined ? [] : [`drawtext=${font}:expansion=none:${textLook}`];
  const fitted =
    reel === undefined
      ? [even]
      : [
          `scale=${reel.width}:${reel.height}:force_original_aspect_ratio=decrease:force_divisible_by=2`,
          `pad=${reel.width}:${reel.height}:-1:-1,setsar=1`,
        ];
  const rate = reel === undefined ? [] : [`fps=${reel.rate}`];
  const input = `[0:${pictureOf(metadata.streams)?.index ?? 0}]`;
  const still = freeze ?? last;
  const frozen =
    freeze === undefined
      ? 0
      : timeAt(index, last) + stayOf(index, last) - timeAt(index, still) - stayOf(index, still);
  const main = [
    trimmed(index, first, still),
    `setpts=${shifted(index, first)}`,
    ...(freeze === undefined ? [] : [`tpad=stop_mode=clone:stop_duration=${frozen.toFixed(6)}`]),
  ];
  const look = [...boxes, ...fitted, ...text, ...rate].join();
  if (repeat === undefined || plan.slowRepeat === undefined)
    return [`${input}${[...before, ...main, look].join()}[picture]`];
  const again = [
    trimmed(index, repeat.first, repeat.last),
    `setpts=(${shifted(index, repeat.first)})/${plan.slowRepeat.speed}`,
  ];
  return [
    `${input}${[...before, "split[one][other]"].join()}`,
    `[one]${main.join()}[main]`,
    `[other]${again.join()}[again]`,
    `[main][again]concat=n=2,${look}[picture]`,
  ];
}

/** Begin and size of a box along one side of the picture: every pixel it touches, however little. */
function covered(place: "x" | "y", size: "w" | "h", from: number, long: number): string {
  return `${place}=floor(i${size}*${from}):${size}=ceil(i${size}*${from + long})-floor(i${size}*${from})`;
}

const textLook = String.raw`fontsize=min(h/24\,w/40):fontcolor=white:box=1:boxcolor=black@0.7:boxborderw=8:x=(w-text_w)/2:y=h-text_h-h/20`;

/** The frames from one to another and no others, by times half-way to their neighbours. */
function trimmed(index: FrameIndex, first: number, last: number): string {
  const start = first === 0 ? "" : `start=${(index.first + seekTarget(index.times, first - 1)).toFixed(6)}:`;
  return `trim=${start}end=${(index.first + seekTarget(index.times, last)).toFixed(6)}`;
}

/** Time from a frame on, as a filter writes it. */
function shifted(index: FrameIndex, frame: number): string {
  return `round(PTS-(${(index.first + timeAt(index, frame)).toFixed(9)})/TB)`;
}

function soundChain(
  plan: ClipPlan,
  { index }: Sources,
  { first, last, freeze }: Frames,
  stream: number,
  length: number,
): string {
  const from = timeAt(index, first);
  const to = timeAt(index, last) + stayOf(index, last);
  const mute =
    plan.muteFrom ?? (freeze === undefined ? undefined : timeAt(index, freeze) + stayOf(index, freeze));
  const heard = Math.min(to, mute ?? to) - from;
  const filters = [
    `asetpts=round(PTS-(${(index.first + from).toFixed(9)})/TB)`,
    // Taken out to the sample: turned down, the sound would go on to the end of a packet.
    `atrim=start=0:end=${(heard > 0 ? heard : to - from).toFixed(6)}`,
    "aresample=async=1:first_pts=0",
    "aformat=channel_layouts=mono|stereo",
    ...(heard > 0 ? [] : ["volume=0"]),
    // The silence from there on, of a slow repeat, and where a recording's sound is shorter than its picture.
    `apad=whole_dur=${length.toFixed(6)}`,
  ];
  return `[0:${stream}]${filters.join()}[sound]`;
}

/** Options that take the recording's own pictures over. */
export function takeOverOptions({ metadata, index }: Sources, { first, last }: Frames): string[] {
  const picture = pictureOf(metadata.streams);
  if (picture === undefined) return [];
  const [numerator, denominator] = picture.tick;
  const ticks = Math.round(((index.first + timeAt(index, first)) * denominator) / numerator);
  return [
    ...[
      "-map",
      `0:${picture.index}`,
      "-c:v",
      "copy",
      "-bsf:v",
      `setts=pts=PTS-(${ticks}):dts=DTS-(${ticks})`,
    ],
    ...["-frames:v", String(last - first + 1)],
    ...["-map_metadata", "-1", "-map_chapters", "-1", "-f", "mp4"],
  ];
}
