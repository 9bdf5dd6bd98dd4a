// What ffprobe lists of a recording: its container, its streams and, where wanted, every packet of its pictures.

import { failure, type Result, success } from "../bout/result";
import { givenUp, unreadable } from "./complaint";
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
  "format=nb_streams,format_name,start_time,duration",
  "format_tags=none",
].join(":");
/** When it is shown; `dts`, when it is decoded, makes listing longer and is asked for where that is not known. */
const packets = (times: "pts" | "pts,dts") => `packet=stream_index,${times},flags:packet_side_data=none`;

export interface Listing {
  readonly metadata: Metadata;
  /** By their stream's place in the file, of pictures alone, and only where they were wanted. */
  readonly packets: ReadonlyMap<number, Packets>;
  /** Packets left out, since no time of theirs is known. */
  readonly untimed: number;
}

/** Lists a recording by its full path. */
export async function listRecording(
  program: Program,
  file: string,
  signal: AbortSignal,
  what: "container" | "packets",
): Promise<Result<Listing, VideoProblem>> {
  const about = () => list(program, file, ["-v", "error", "-show_entries", container], signal);
  if (what === "container") return about();
  const first = await listPictures(program, file, "pts", signal);
  const frames =
    first.ok && first.value.untimed > 0 ? await listPictures(program, file, "pts,dts", signal) : first;
  if (!frames.ok || frames.value.knowsAllStreams) return frames;
  const whole = await about();
  return whole.ok ? success({ ...listingOf(frames.value), metadata: whole.value.metadata }) : whole;
}

/** An ffprobe that is told of pictures alone lists them in half the time and says nothing of sound. Starting a second one
 * takes longer than listing the pictures of several minutes (measured), but at this level ffprobe tells what it found in
 * the file on its error output, sound as well. */
function listPictures(
  program: Program,
  file: string,
  times: "pts" | "pts,dts",
  signal: AbortSignal,
): Promise<Result<List, VideoProblem>> {
  const wanted = ["-show_entries", `${packets(times)}:${container}`];
  // "V" leaves cover pictures out (ffmpeg's manual, "Stream specifiers").
  return list(program, file, ["-hide_banner", "-v", "level+info", "-select_streams", "V", ...wanted], signal);
}

async function list(
  { path }: Program,
  file: string,
  wanted: readonly string[],
  signal: AbortSignal,
): Promise<Result<List, VideoProblem>> {
  const options = [...reach, ...wanted, "-of", "compact", named(file)];
  let list = new List();
  const taken = (line: string) => list.take(line);
  const heard = (line: string) => list.hear(line);
  let ended = await runLinesByFile(path, options, signal, taken, heard);
  // A full disk cuts the list short, which ffprobe doesn't notice.
  if (ended === undefined || (ended.code === 0 && !list.whole)) {
    list = new List();
    ended = await runLines(path, options, signal, taken, heard);
  }
  if (signal.aborted) return failure(givenUp(signal, file));
  return ended.code === 0 ? success(list) : failure(unreadable(file, ended.complaint));
}

function listingOf({ metadata, packets, untimed }: List): Listing {
  return { metadata, packets, untimed };
}

/** What the lines of a list say. */
class List implements Listing {
  readonly packets = new Map<number, PacketsSeen>();
  untimed = 0;
  readonly #streams = new Map<number, Stream>();
  /** Places of all streams that were told of, those that are neither picture nor sound included. */
  readonly #told = new Set<number>();
  #format: Fields | undefined;
  #heardComplaint = true;

  take(line: string): void {
    if (line.startsWith("packet|")) this.#takePacket(line);
    else if (line.startsWith("stream|")) this.#takeStream(fieldsOf(line));
    else if (line.startsWith("format|")) this.#format = fieldsOf(line);
  }

  #takeStream(fields: Fields): void {
    const index = Number(fields.get("index"));
    this.#told.add(index);
    const stream = streamOf(fields);
    if (stream !== undefined) this.#streams.set(index, stream);
  }

  /** Takes a line of the error output: what ffprobe found in the file, or a complaint, which is answered. */
  hear(line: string): string | undefined {
    const [, , level] = levelled.exec(line) ?? [];
    // A complaint may go on for more lines.
    if (level !== undefined) this.#heardComplaint = /^(error|fatal|panic)$/.test(level);
    const found = foundStream.exec(line)?.groups;
    if (found === undefined) return this.#heardComplaint ? line.replace(levelled, "$1") : undefined;
    const index = Number(found["index"]);
    this.#told.add(index);
    if (found["kind"] === "Audio" && !this.#streams.has(index))
      this.#streams.set(index, soundOf(index, found["codec"] ?? ""));
    return undefined;
  }

  /** Whether each stream of the file was told of. */
  get knowsAllStreams(): boolean {
    return this.#told.size === finite(this.#format?.get("nb_streams"));
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
      streams: [...this.#streams.values()].sort((one, other) => one.index - other.index),
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

/** How ffmpeg marks a line with its level, after who says it: "[mov,mp4 @ 0x55d0] [error] moov atom not found". */
const levelled = /^((?:\[[^\]]* @ 0x[0-9a-f]+\] )*)\[(\w+)\] /;

/** "[info]   Stream #0:1[0x2](und): Audio: aac (LC) (mp4a / 0x6134706D), 44100 Hz, mono". The words of tags stand further to
 * the right, and lines within them have no level. */
const foundStream =
  /^\[info\] {3}Stream #0:(?<index>\d+)(?:\[0x[0-9a-f]+\])?(?:\([^)]*\))?: (?<kind>[A-Z][a-z]+): (?<codec>\w+)/;

/** As ffprobe lists it, so far as anybody asks. */
function soundOf(index: number, codec: string): Stream {
  const noPicture = { width: 0, height: 0, rotation: 0, pixelFormat: "", pixelShape: 1, interlaced: false };
  return { ...noPicture, index, kind: "audio", codec: codec === "none" ? "unknown" : codec, tick: [0, 1] };
}

function streamOf(fields: Fields): Stream | undefined {
  const kind = fields.get("codec_type");
  if ((kind !== "video" && kind !== "audio") || fields.get("attached_pic") === "1") return undefined;
  const [numerator = 0, denominator = 1] = (fields.get("time_base") ?? "").split("/").map(Number);
  const count = (name: string) => finite(fields.get(name)) ?? 0;
  return {
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
  };
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
