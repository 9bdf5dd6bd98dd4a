// Who makes a copy, where several machines share a folder: a file that the first one creates, kept alive by its owner, and
// free again once it has fallen silent. It only saves double work: each owner writes to a file of its own, and the finished
// copies of two would be the same.

import { randomBytes } from "node:crypto";
import { readFile, rename, rm, writeFile } from "node:fs/promises";
import os from "node:os";
import * as z from "zod";

/** How often an owner shows that it is alive, in milliseconds. */
const beat = 5000;
/** A claim that stays the same for so long, by the observer's own clock, is nobody's. */
const silence = 30_000;

const written = z.object({
  owner: z.string(),
  machine: z.string(),
  process: z.number(),
  /** Rises with every sign of life: clocks of two machines may differ. */
  beat: z.number(),
  /** Share of the work that is done, 0-1. */
  share: z.number(),
});
type Written = z.infer<typeof written>;

/** Found in place of a claim: somebody else's, with how far they are. */
export interface Elsewhere {
  readonly share: number;
}

export class Claim {
  readonly owner = `${os.hostname().replaceAll(/[^A-Za-z0-9-]/g, "")}-${process.pid}-${randomBytes(4).toString("hex")}`;
  readonly #file: string;
  readonly #patience: { readonly beat: number; readonly silence: number };
  #timer: NodeJS.Timeout | undefined;
  #beats = 0;
  #share = 0;
  #seen: { readonly text: string; readonly since: number } | undefined;

  /** `file` is the claim's own place, in a folder that exists. */
  constructor(file: string, patience = { beat, silence }) {
    this.#file = file;
    this.#patience = patience;
  }

  /** True where it is ours now; else how far the owner is. Throws where the folder can't be written. */
  async take(): Promise<true | Elsewhere> {
    for (;;) {
      try {
        await writeFile(this.#file, this.#text(), { flag: "wx" });
        this.#timer = setInterval(() => void this.#show(), this.#patience.beat);
        this.#timer.unref();
        return true;
      } catch (error) {
        if (!hasCode(error, "EEXIST")) throw error;
      }
      const text = await this.#read();
      if (text === undefined) continue;
      const now = performance.now();
      if (this.#seen?.text !== text) this.#seen = { text, since: now };
      else if (now - this.#seen.since > this.#patience.silence && (await this.#remove(text))) continue;
      return { share: read(text)?.share ?? 0 };
    }
  }

  /** Told to others with the next sign of life. */
  set share(share: number) {
    this.#share = share;
  }

  async release(): Promise<void> {
    clearInterval(this.#timer);
    this.#timer = undefined;
    try {
      const text = await this.#read();
      if (text !== undefined && read(text)?.owner === this.owner) await rm(this.#file, { force: true });
    } catch {
      // It falls silent now, which frees it too.
    }
  }

  /** Writes the next sign of life, unless the claim was taken over while this machine slept. */
  async #show(): Promise<void> {
    try {
      const text = await this.#read();
      if (text === undefined || read(text)?.owner !== this.owner || this.#timer === undefined) return;
      this.#beats += 1;
      await writeFile(this.#file, this.#text());
    } catch {
      // The folder is away for the moment; others may take over, which does no harm.
    }
  }

  /** Takes a silent claim away; false where it turned out to be another one by now. */
  async #remove(silent: string): Promise<boolean> {
    const aside = `${this.#file}.${this.owner}`;
    try {
      // Of several who try, the system lets one.
      await rename(this.#file, aside);
      const moved = await readFile(aside, "utf8");
      if (moved !== silent) await rename(aside, this.#file);
      else await rm(aside, { force: true });
      return moved === silent;
    } catch {
      return false;
    }
  }

  async #read(): Promise<string | undefined> {
    try {
      return await readFile(this.#file, "utf8");
    } catch (error) {
      if (hasCode(error, "ENOENT")) return undefined;
      throw error;
    }
  }

  #text(): string {
    const text: Written = {
      owner: this.owner,
      machine: os.hostname(),
      process: process.pid,
      beat: this.#beats,
      share: this.#share,
    };
    return `${JSON.stringify(text)}\n`;
  }
}

/** Undefined while its owner is writing it. */
function read(text: string): Written | undefined {
  try {
    return written.parse(JSON.parse(text));
  } catch {
    return undefined;
  }
}

export function hasCode(error: unknown, code: string): boolean {
  return error instanceof Error && "code" in error && error.code === code;
}
