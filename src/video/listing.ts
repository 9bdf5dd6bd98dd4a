// What ffprobe lists of a recording: its container, its streams and, where wanted, every packet of its pictures.

import { failure, type Result, success } from "../bout/result";
import { givenUp, unreadable } from "./complaint";
import type { Kept } from "./kept";
import type { VideoProblem } from "./problem";
import { runLines, runLinesByFile } from "./process";
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

/** The packets of one stream, for pictures one a frame. Two hours hold half a million, so each is a number or two. */
export interface Packets {
  /** Presentation times in ticks of the stream's clock, of those that are shown, in the order of the file. */
  readonly ticks: readonly number[];
  /** How many can be decoded without others. */
  readonly keys: number;
  /** Most packets from one of those to the next, in the order of the file. */
  readonly longestGop: number;
}

// Tags are free text: left out, no line of theirs can look like ffprobe's own.
const container = [
  "stream=index,codec_name,codec_type,width,height,pix_fmt,time_base,sample_aspect_ratio,field_order",
  "stream_side_data=rotation",
  "stream_disposition=attached_pic",
  "stream_tags=none",
  "format=format_name,start_time,duration",
  "format_tags=none",
].join(":");
const format = "format=format_name:format_tags=none";
/** When it is shown; `dts`, when it is decoded, makes listing longer and is asked for where that is not known. */
const packets = (times: "pts" | "pts,dts") => `packet=stream_index,${times},flags:packet_side_data=none`;
/** Streams of pictures without cover pictures (ffmpeg's manual, "Stream specifiers"). */
const pictures = ["-select_streams", "V"];
/** Bytes below which all is listed in one go. An ffprobe that is told of pictures alone says nothing of sound, so it takes a
 * second one, and starting that takes as long as listing the sound of ten minutes and more (measured). */
const short = 300e6;

export interface Listing {
  readonly metadata: Metadata;
  /** By their stream's place in the file; those of sound may be left out, and all where they were not wanted. */
  readonly packets: ReadonlyMap<number, Packets>;
  /** Packets left out, since no time of theirs is known. */
  readonly untimed: number;
}

/** Lists a recording by its full path. Its size in bytes decides only how. */
export async function listRecording(
  program: Program,
  { file, size }: Pick<Kept, "file" | "size">,
  signal: AbortSignal,
  what: "container" | "packets",
): Promise<Result<Listing, VideoProblem>> {
  const part = (entries: string, of: readonly string[] = []) =>
    listPart(program, file, ["-show_entries", entries, ...of], signal);
  if (what === "container") return part(container);
  const listed = async (times: "pts" | "pts,dts") => {
    if (size < short) return part(`${packets(times)}:${container}`);
    const [about, frames] = await Promise.all([
      part(container),
      part(`${packets(times)}:${format}`, pictures),
    ]);
    if (!about.ok) return about;
    return frames.ok ? success({ ...frames.value, metadata: about.value.metadata }) : frames;
  };
  const first = await listed("pts");
  return first.ok && first.value.untimed > 0 ? listed("pts,dts") : first;
}

async function listPart(
  { path }: Program,
  file: string,
  wanted: readonly string[],
  signal: AbortSignal,
): Promise<Result<Listing, VideoProblem>> {
  const options = ["-v", "error", ...reach, ...wanted, "-of", "compact", named(file)];
  let list = new List();
  const taken = (line: string) => list.take(line);
  let ended = await runLinesByFile(path, options, signal, taken);
  // A full disk cuts the list short, which ffprobe doesn't notice.
  if (ended === undefined || (ended.code === 0 && !list.whole)) {
    list = new List();
    ended = await runLines(path, options, signal, taken);
  }
  if (signal.aborted) return failure(givenUp(signal, file));
  return ended.code === 0 ? success(list) : failure(unreadable(file, ended.complaint));
}

/** What the lines of a list say. */
class List implements Listing {
  readonly packets = new Map<number, PacketsSeen>();
  untimed = 0;
  readonly #streams: Stream[] = [];
  #format: Fields | undefined;

  take(line: string): void {
    if (line.startsWith("packet|")) this.#takePacket(line);
    else if (line.startsWith("stream|")) this.#streams.push(...streamOf(fieldsOf(line)));
    else if (line.startsWith("format|")) this.#format = fieldsOf(line);
  }

  /** Of "packet|stream_index=0|pts=512|dts=512|flags=K__", with or without `dts`. */
  #takePacket(line: string): void {
    const [, stream, shown, decoded, flags = ""] =
      /^packet\|stream_index=(\d+)\|pts=(-?\d+|N\/A)\|(?:dts=(-?\d+|N\/A)\|)?flags=([^|]*)/.exec(line) ?? [];
    // Some containers write only the time of decoding. As a set these are the times of showing.
    const time = Number(shown === "N/A" ? decoded : shown);
    if (!Number.isFinite(time)) {
      this.untimed += 1;
      return;
    }
    const index = Number(stream);
    let packets = this.packets.get(index);
    if (packets === undefined) this.packets.set(index, (packets = new PacketsSeen()));
    packets.add(time, flags);
  }

  /** What the format is comes last. */
  get whole(): boolean {
    return this.#format !== undefined;
  }

  get metadata(): Metadata {
    return {
      formats: (this.#format?.get("format_name") ?? "").split(","),
      duration: finite(this.#format?.get("duration")),
      start: finite(this.#format?.get("start_time")) ?? 0,
      streams: this.#streams,
    };
  }
}

class PacketsSeen implements Packets {
  readonly ticks: number[] = [];
  keys = 0;
  longestGop = 0;
  #since = 0;

  add(time: number, flags: string): void {
    // D: needed to decode what follows, never shown, before the beginning that an edit list sets.
    if (!flags.includes("D")) this.ticks.push(time);
    if (flags.includes("K")) {
      this.keys += 1;
      this.#since = 0;
    }
    this.#since += 1;
    this.longestGop = Math.max(this.longestGop, this.#since);
  }
}

/** The fields of a line by name; of a part of it ("disposition:attached_pic") by its own name. */
type Fields = ReadonlyMap<string, string>;

function fieldsOf(line: string): Fields {
  return new Map(
    line.split("|").flatMap((field): [string, string][] => {
      const [, name, value] = /^(?:\w+:)*(\w+)=(.*)$/.exec(field) ?? [];
      return name === undefined || value === undefined ? [] : [[name, value]];
    }),
  );
}

function streamOf(fields: Fields): Stream[] {
  const kind = fields.get("codec_type");
  if ((kind !== "video" && kind !== "audio") || fields.get("attached_pic") === "1") return [];
  const [numerator = 0, denominator = 1] = (fields.get("time_base") ?? "").split("/").map(Number);
  const count = (name: string) => finite(fields.get(name)) ?? 0;
  return [
    {
      index: count("index"),
      kind,
      codec: fields.get("codec_name") ?? "unknown",
      width: count("width"),
      height: count("height"),
      // ffprobe counts the other way round.
      rotation: (360 - Math.round(count("rotation"))) % 360,
      pixelFormat: fields.get("pix_fmt") ?? "",
      pixelShape: ratioOf(fields.get("sample_aspect_ratio")),
      interlaced: /^(tt|bb|tb|bt)$/.test(fields.get("field_order") ?? ""),
      tick: [numerator, denominator],
    },
  ];
}

/** Of "64:45"; 1 for "0:1" and "N/A". */
function ratioOf(text: string | undefined): number {
  const [width = NaN, height = NaN] = (text ?? "").split(":").map(Number);
  return width > 0 && height > 0 ? width / height : 1;
}

/** Null for what ffprobe doesn't know, "N/A". */
function finite(text: string | undefined): number | null {
  const number = text === undefined || text === "" ? NaN : Number(text);
  return Number.isFinite(number) ? number : null;
}
