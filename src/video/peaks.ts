// How loud is a recording's sound, hundredth by hundredth of a second? The buzzer shows.

import { Writable } from "node:stream";
import { finished } from "node:stream/promises";
import { failure, type Result, success } from "../bout/result";
import { givenUp, unmade } from "./complaint";
import { runFfmpeg } from "./ffmpeg";
import { identity, readingOf } from "./frame-index";
import { keepBytes, type Kept, keptBytes, type Shelf } from "./kept";
import { type MakeOptions, type VideoProblem, videoProblem } from "./problem";
import { unlessStuck } from "./process";
import { findProgram } from "./programs";
import { peakOptions, soundOf } from "./recipe";

export interface Peaks {
  readonly perSecond: 100;
  /** Loudest sample of each hundredth, 0-255; the first begins with the recording's first frame. */
  readonly values: Uint8Array;
}

export interface PeakOptions extends MakeOptions {
  /** Called as they come: from which hundredth on, and the values. */
  readonly part?: ((from: number, values: Uint8Array) => void) | undefined;
}

const perSecond = 100;
/** Samples a second asked of ffmpeg: the whole of a buzzer's tone, and little to read. */
const sampleRate = 8000;
/** Hundredths handed on at a time: ten seconds. */
const portion = 1000;

/** Two hours take 0.7 MB. */
function shelf(folder: string): Shelf {
  return { folder, ending: "peaks", mark: "boutline peaks 1\n", most: 100 };
}

/** Null where there is no sound. Kept from before, or read by ffmpeg. */
export async function soundPeaks(
  file: string,
  options: PeakOptions,
): Promise<Result<Peaks | null, VideoProblem>> {
  const kept = await identity(file);
  if (!kept.ok) return kept;
  const before = await keptBytes(shelf(options.cacheDir), kept.value);
  if (before === undefined) return readPeaks(kept.value, options);
  // A recording without sound has no values.
  if (before.length === 0) return success(null);
  const values = Uint8Array.from(before);
  options.part?.(0, values);
  return success({ perSecond, values });
}

async function readPeaks(kept: Kept, options: PeakOptions): Promise<Result<Peaks | null, VideoProblem>> {
  const { file } = kept;
  const { cacheDir, signal: given, part } = options;
  const program = await findProgram("ffmpeg", options.ffmpegPath);
  if (!program.ok) return program;
  const reading = await readingOf(file, options);
  if (!reading.ok) return reading;
  const { metadata, index } = reading.value;
  const sound = soundOf(metadata.streams);
  if (sound === undefined) {
    await keepBytes(shelf(cacheDir), kept, Buffer.alloc(0));
    return success(null);
  }
  const signal = given ?? new AbortController().signal;
  const collector = new PeakCollector(part ?? (() => undefined));
  const outcome = await unlessStuck(signal, async (signal, alive) => {
    const sink = sinkInto(collector, alive);
    const outcome = await runFfmpeg(program.value, {
      file,
      options: peakOptions(sound, index, sampleRate),
      output: sink,
      signal,
    });
    if (outcome.done) await finished(sink, { readable: false });
    else sink.destroy();
    return outcome;
  });
  if (signal.aborted) return failure(givenUp(signal, file));
  if (!outcome.done) return failure(unmade("The picture of the sound", file, cacheDir, outcome));
  const now = await identity(file);
  if (!now.ok) return now;
  if (now.value.size !== kept.size || now.value.modified !== kept.modified)
    return failure(videoProblem("recording-changed", `${file} changed while it was being read.`));
  const values = collector.end();
  if (values.length === 0) return success(null);
  await keepBytes(shelf(cacheDir), kept, Buffer.from(values));
  return success({ perSecond, values });
}

/** Takes bytes as they come. It never emits `close`, which fluent-ffmpeg would take for somebody's giving up. */
function sinkInto(collector: PeakCollector, alive: () => void): Writable {
  return new Writable({
    autoDestroy: false,
    emitClose: false,
    write: (bytes: Buffer, _, done) => {
      alive();
      collector.add(bytes);
      done();
    },
  });
}

/** From 16-bit samples, little endian, in pieces of any size. */
export class PeakCollector {
  readonly #part: (from: number, values: Uint8Array) => void;
  #values = new Uint8Array(60 * perSecond);
  #count = 0;
  #told = 0;
  #loudest = 0;
  #samples = 0;
  /** First byte of a sample whose second one has not come. */
  #half: number | undefined;

  constructor(part: (from: number, values: Uint8Array) => void) {
    this.#part = part;
  }

  add(bytes: Uint8Array): void {
    let at = 0;
    if (this.#half !== undefined && bytes.length > 0) {
      this.#sample(this.#half | ((bytes[0] ?? 0) << 8));
      this.#half = undefined;
      at = 1;
    }
    for (; at + 1 < bytes.length; at += 2) this.#sample((bytes[at] ?? 0) | ((bytes[at + 1] ?? 0) << 8));
    if (at < bytes.length) this.#half = bytes[at];
    if (this.#count - this.#told >= portion) this.#tell();
  }

  /** All values; the last hundredth may be a short one. */
  end(): Uint8Array {
    if (this.#samples > 0) this.#close();
    this.#tell();
    return this.#values.slice(0, this.#count);
  }

  #sample(unsigned: number): void {
    const loud = Math.abs(unsigned > 0x7fff ? unsigned - 0x1_0000 : unsigned);
    if (loud > this.#loudest) this.#loudest = loud;
    this.#samples += 1;
    if (this.#samples === sampleRate / perSecond) this.#close();
  }

  #close(): void {
    if (this.#count === this.#values.length) {
      const longer = new Uint8Array(2 * this.#values.length);
      longer.set(this.#values);
      this.#values = longer;
    }
    this.#values[this.#count] = Math.min(255, this.#loudest >> 7);
    this.#count += 1;
    this.#loudest = 0;
    this.#samples = 0;
  }

  #tell(): void {
    if (this.#count === this.#told) return;
    this.#part(this.#told, this.#values.slice(this.#told, this.#count));
    this.#told = this.#count;
  }
}
