// Fingerprints of recordings seen, by the place where a bout file named them: so that a recording that was moved or
// renamed is known again. Kept in one file for all workspaces; it may be thrown away, and then nothing is known.

import { randomBytes } from "node:crypto";
import { mkdir, readFile, rename, rm, writeFile } from "node:fs/promises";
import path from "node:path";
import * as z from "zod";
import { fingerprintOf } from "../video/fingerprint";
import { openRecording } from "./media-file";

/** Size in bytes, time of change in milliseconds since 1970, fingerprint (see `video/fingerprint.ts`). */
const keptPrint = z.tuple([z.number(), z.number(), z.string()]);
const keptFile = z.object({ prints: z.literal(1), of: z.record(z.string(), keptPrint) });
type Kept = z.output<typeof keptPrint>;

export interface Print {
  /** Bytes. */
  readonly size: number;
  readonly print: string;
}

/** Those seen the longest time ago go first. */
const most = 20_000;
/** Milliseconds in which news are gathered before they are written. */
const pause = 2000;

export class Prints {
  readonly #file: string;
  #known: Promise<Map<string, Kept>> | undefined;
  /** Seen in this window and not written yet. */
  readonly #news = new Map<string, Kept>();
  #timer: NodeJS.Timeout | undefined;

  /** `file`: where they are kept. */
  constructor(file: string) {
    this.#file = file;
  }

  /** What was at a place when it was last seen; undefined where nothing was. */
  async of(place: string): Promise<Print | undefined> {
    const kept = (await this.#all()).get(place);
    return kept === undefined ? undefined : { size: kept[0], print: kept[2] };
  }

  /** Looks at the recording named at a place, unless it is as it was; `real` is the file itself, links followed. Undefined
   * where it can't be read. */
  async see(place: string, real = place): Promise<Print | undefined> {
    const opened = await openRecording(real);
    if (!opened.ok) return undefined;
    const { handle, size } = opened.value;
    try {
      const { mtimeMs: modified } = await handle.stat();
      const all = await this.#all();
      const before = all.get(place);
      if (before?.[0] === size && before[1] === modified) return { size, print: before[2] };
      const print = await fingerprintOf(handle);
      const kept: Kept = [size, modified, print];
      all.set(place, kept);
      this.#news.set(place, kept);
      this.#saveSoon();
      return { size, print };
    } catch {
      // A disk that went away while it was read.
      return undefined;
    } finally {
      await handle.close();
    }
  }

  /** Writes what is new, beside what other windows have written meanwhile. What can't be written is not known next time. */
  async save(): Promise<void> {
    clearTimeout(this.#timer);
    if (this.#news.size === 0) return;
    const news = [...this.#news];
    this.#news.clear();
    const all = await readPrints(this.#file);
    for (const [place, kept] of news) {
      all.delete(place);
      all.set(place, kept);
    }
    const of = Object.fromEntries([...all].slice(-most));
    const part = `${this.#file}.${randomBytes(4).toString("hex")}.part`;
    try {
      await mkdir(path.dirname(this.#file), { recursive: true });
      await writeFile(part, JSON.stringify({ prints: 1, of }));
      await rename(part, this.#file);
    } catch {
      await rm(part, { force: true }).catch(() => undefined);
    }
  }

  #saveSoon(): void {
    clearTimeout(this.#timer);
    this.#timer = setTimeout(() => void this.save(), pause);
  }

  #all(): Promise<Map<string, Kept>> {
    this.#known ??= readPrints(this.#file);
    return this.#known;
  }
}

async function readPrints(file: string): Promise<Map<string, Kept>> {
  try {
    const read = keptFile.safeParse(JSON.parse(await readFile(file, "utf8")));
    return new Map(read.success ? Object.entries(read.data.of) : []);
  } catch {
    return new Map();
  }
}
