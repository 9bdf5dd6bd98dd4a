// The folder of viewing copies: their names, how much room they take, and which go when it is too much. Nothing else that
// lies there is touched.

import { readdir, rm, stat, utimes } from "node:fs/promises";
import path from "node:path";
import type { CopyKind } from "./recipe";

const copyName = /^[0-9a-f]{32}-(sound|\d+)\.mp4$/;
/** Of work given up by a machine that went off: unfinished copies, claims, and claims set aside. */
const leftoverName = /^[0-9a-f]{32}-(sound|\d+)\.mp4\.(.+\.part|lock(\..+)?)$/;
/** A file in work is written to all the time. Milliseconds. */
const leftoverAge = 24 * 3600_000;

export interface Bulk {
  readonly copies: number;
  readonly bytes: number;
}

interface Kept {
  readonly file: string;
  readonly bytes: number;
  /** Milliseconds since 1970. */
  readonly used: number;
}

export class CopyFolder {
  readonly #folder: string;

  constructor(folder: string) {
    this.#folder = folder;
  }

  /** Full path of a copy of a recording with this fingerprint. */
  placeOf(fingerprint: string, kind: CopyKind, lines: number): string {
    return path.join(this.#folder, `${fingerprint}-${kind === "sound" ? kind : lines}.mp4`);
  }

  async size(): Promise<Bulk> {
    return bulkOf(await this.#copies());
  }

  /** Removes all but these; answers what went. */
  async clear(except: ReadonlySet<string>): Promise<Bulk> {
    await this.#removeLeftovers();
    return this.#remove((await this.#copies()).filter(({ file }) => !except.has(file)));
  }

  /** Removes those not used for longest until the rest takes at most so many bytes; never these. */
  async shrink(mostBytes: number, except: ReadonlySet<string>): Promise<Bulk> {
    await this.#removeLeftovers();
    const copies = await this.#copies();
    copies.sort((one, other) => one.used - other.used);
    let { bytes } = bulkOf(copies);
    const going: Kept[] = [];
    for (const copy of copies) {
      if (bytes <= mostBytes) break;
      if (except.has(copy.file)) continue;
      going.push(copy);
      bytes -= copy.bytes;
    }
    return this.#remove(going);
  }

  /** Notes that a copy is used now. Its time of change stays: tables of its frames are kept by that. */
  async use(file: string): Promise<void> {
    try {
      await utimes(file, Date.now() / 1000, (await stat(file)).mtimeMs / 1000);
    } catch {
      // A folder that can't be written; then somebody else takes care of its size.
    }
  }

  async #copies(): Promise<Kept[]> {
    const found: Kept[] = [];
    for (const name of await this.#names()) {
      if (!copyName.test(name)) continue;
      const file = path.join(this.#folder, name);
      try {
        const { size, atimeMs, mtimeMs } = await stat(file);
        found.push({ file, bytes: size, used: Math.max(atimeMs, mtimeMs) });
      } catch {
        // Somebody else removed it.
      }
    }
    return found;
  }

  /** What could not be removed, because it is being read, is not counted. */
  async #remove(copies: readonly Kept[]): Promise<Bulk> {
    const gone: Kept[] = [];
    for (const copy of copies) {
      try {
        await rm(copy.file);
        gone.push(copy);
      } catch {
        continue;
      }
    }
    return bulkOf(gone);
  }

  async #removeLeftovers(): Promise<void> {
    for (const name of await this.#names()) {
      if (!leftoverName.test(name)) continue;
      const file = path.join(this.#folder, name);
      try {
        if (Date.now() - (await stat(file)).mtimeMs > leftoverAge) await rm(file);
      } catch {
        continue;
      }
    }
  }

  async #names(): Promise<readonly string[]> {
    try {
      return await readdir(this.#folder);
    } catch {
      return [];
    }
  }
}

function bulkOf(copies: readonly Kept[]): Bulk {
  return { copies: copies.length, bytes: copies.reduce((sum, { bytes }) => sum + bytes, 0) };
}
