// How loud are the recordings being watched, hundredth of a second by hundredth? Worked out in the background, one
// recording after another, and passed on while it comes.

import type { Result } from "../bout/result";
import { failure, success } from "../bout/result";
import type { FrameTablesOptions } from "./media-frames";

export interface SoundLevelsOptions extends Pick<FrameTablesOptions, "cacheDir" | "ffprobePath" | "trusted"> {
  /** Full path of ffmpeg; without it the one on PATH. Read anew for each recording, so it may be a getter. */
  readonly ffmpegPath?: string | undefined;
}

/** One byte for each hundredth of a second, from the recording's first frame on: its loudest sample, 0 to 255. */
export type Levels = AsyncGenerator<Uint8Array, void, void>;

export class SoundLevels {
  readonly #options: SoundLevelsOptions;
  readonly #jobs = new Map<string, Job>();
  #last: Promise<unknown> = Promise.resolve();

  constructor(options: SoundLevelsOptions) {
    this.#options = options;
  }

  /** Waits for the first levels. Null where there is no sound; the problem is a sentence. A failure is tried anew when
   * asked again. */
  async of(file: string): Promise<Result<Levels | null, string>> {
    if (!this.#options.trusted())
      return failure("The sound is drawn once this workspace is trusted: that starts ffmpeg.");
    const job = this.#jobs.get(file) ?? this.#begin(file);
    await job.something();
    if (job.ended === undefined || job.length > 0) return success(job.levels());
    return job.ended.ok ? success(null) : job.ended;
  }

  /** Nobody watches the file any more: stops the work for it. */
  forget(file: string): void {
    this.#jobs.get(file)?.stop.abort();
    this.#jobs.delete(file);
  }

  #begin(file: string): Job {
    const job = new Job();
    this.#jobs.set(file, job);
    this.#last = this.#last.then(async () => {
      const result = await this.#work(file, job);
      if (!result.ok && this.#jobs.get(file) === job) this.#jobs.delete(file);
      job.end(result);
    });
    return job;
  }

  async #work(file: string, job: Job): Promise<Result<null, string>> {
    const { signal } = job.stop;
    if (signal.aborted) return failure("The recording was closed.");
    try {
      const { soundPeaks } = await import("../video/index");
      const { cacheDir, ffprobePath, ffmpegPath } = this.#options;
      const part = (from: number, values: Uint8Array) => job.add(from, values);
      const result = await soundPeaks(file, { cacheDir, ffprobePath, ffmpegPath, signal, part });
      return result.ok ? success(null) : failure(result.problem.message);
    } catch (error) {
      return failure(
        `The sound could not be read: ${error instanceof Error ? error.message : String(error)}`,
      );
    }
  }
}

/** Levels of one recording as they come; many may read them, each from the beginning. */
class Job {
  readonly stop = new AbortController();
  length = 0;
  ended: Result<null, string> | undefined;
  #levels = new Uint8Array(60_000);
  #waiting: (() => void)[] = [];

  add(from: number, values: Uint8Array): void {
    const length = from + values.length;
    if (length > this.#levels.length) {
      const larger = new Uint8Array(Math.max(length, this.#levels.length * 2));
      larger.set(this.#levels);
      this.#levels = larger;
    }
    this.#levels.set(values, from);
    this.length = Math.max(this.length, length);
    this.#wake();
  }

  end(result: Result<null, string>): void {
    this.ended = result;
    this.#wake();
  }

  async something(): Promise<void> {
    while (this.length === 0 && this.ended === undefined) await this.#news();
  }

  /** Breaks off with an error where not all could be read. */
  async *levels(): Levels {
    for (let sent = 0; ;) {
      if (sent < this.length) {
        const part = this.#levels.slice(sent, this.length);
        sent += part.length;
        yield part;
      } else if (this.ended === undefined) await this.#news();
      else if (this.ended.ok) return;
      else throw new Error(this.ended.problem);
    }
  }

  #news(): Promise<void> {
    return new Promise((resolve) => this.#waiting.push(resolve));
  }

  #wake(): void {
    for (const wake of this.#waiting.splice(0)) wake();
  }
}
