// Frame tables of the recordings being watched, made in the background, one after another: two at once would only
// fight over the disk.

import { stat } from "node:fs/promises";
import { failure, type Result, success } from "../bout/result";
import type { FrameIndex } from "../video/index";

export interface FrameTablesOptions {
  /** Folder of tables made before. */
  readonly cacheDir: string;
  /** Full path of ffprobe; without it the one on PATH. Read anew for each table, so it may be a getter. */
  readonly ffprobePath?: string | undefined;
  /** In a workspace that is not trusted no process is started. */
  readonly trusted: () => boolean;
}

interface Job {
  /** Size and time of the file the table is of. */
  readonly stamp: string;
  readonly stop: AbortController;
  readonly table: Promise<Result<FrameIndex, string>>;
}

export class FrameTables {
  readonly #options: FrameTablesOptions;
  readonly #wanted = new Set<string>();
  readonly #jobs = new Map<string, Job>();
  /** Tables known from elsewhere, which hold as long as the file is wanted. */
  readonly #given = new Map<string, FrameIndex>();
  #last: Promise<unknown> = Promise.resolve();

  constructor(options: FrameTablesOptions) {
    this.#options = options;
  }

  /** Somebody watches the file: begins its table. */
  want(file: string): void {
    this.#wanted.add(file);
    void this.of(file);
  }

  /** Somebody watches a viewing copy: its frames go by the clock of the recording it was made from. */
  give(file: string, table: FrameIndex): void {
    this.#wanted.add(file);
    this.#given.set(file, table);
  }

  /** The table of a wanted file as it is now, awaited; the problem is a sentence. A failure is tried anew when asked again. */
  async of(file: string): Promise<Result<FrameIndex, string>> {
    const given = this.#given.get(file);
    if (given !== undefined) return success(given);
    if (!this.#options.trusted())
      return failure("Frame times are read once this workspace is trusted: that starts ffprobe.");
    const stamp = await stampOf(file);
    if (!this.#wanted.has(file)) return failure("The recording was closed.");
    const known = this.#jobs.get(file);
    if (known?.stamp === stamp) return known.table;
    known?.stop.abort();
    const stop = new AbortController();
    const table = this.#last.then(() => this.#make(file, stop.signal));
    this.#last = table;
    const job = { stamp, stop, table };
    this.#jobs.set(file, job);
    const result = await table;
    if (!result.ok && this.#jobs.get(file) === job) this.#jobs.delete(file);
    return result;
  }

  /** Nobody watches the file any more: stops the work for it. */
  forget(file: string): void {
    this.#wanted.delete(file);
    this.#given.delete(file);
    this.#jobs.get(file)?.stop.abort();
    this.#jobs.delete(file);
  }

  async #make(file: string, signal: AbortSignal): Promise<Result<FrameIndex, string>> {
    if (signal.aborted) return failure("The recording was closed.");
    try {
      const { frameTable } = await import("../video/index");
      const { cacheDir, ffprobePath } = this.#options;
      const result = await frameTable(file, { cacheDir, ffprobePath, signal });
      return result.ok ? result : failure(result.problem.message);
    } catch (error) {
      return failure(
        `Frame times could not be read: ${error instanceof Error ? error.message : String(error)}`,
      );
    }
  }
}

async function stampOf(file: string): Promise<string> {
  try {
    const { size, mtimeMs } = await stat(file);
    return `${size} ${mtimeMs}`;
  } catch {
    return "";
  }
}
