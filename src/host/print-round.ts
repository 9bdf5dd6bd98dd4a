// Goes round the recordings of the bouts listed, one after another with pauses, so that their fingerprints are known
// before they are moved. It only reads bytes, and only in a workspace that is trusted.

import { setTimeout as wait } from "node:timers/promises";
import type { BoutRow } from "../shelf";
import { placeOf } from "./find-again";
import type { Prints } from "./prints";

export interface PrintRoundOptions {
  readonly prints: Prints;
  readonly trusted: () => boolean;
  /** The file itself of a recording that may be read, links followed; undefined where it is not there or not allowed. */
  readonly find: (boutFile: string, written: string) => Promise<string | undefined>;
  /** Milliseconds before each recording. */
  readonly pause?: number;
}

export class PrintRound {
  readonly #options: PrintRoundOptions;
  /** Places looked at in this window; opening a recording looks again. */
  readonly #seen = new Set<string>();
  #round = 0;

  constructor(options: PrintRoundOptions) {
    this.#options = options;
  }

  /** Ends when all are looked at, or another round has begun. */
  async over(bouts: readonly BoutRow[]): Promise<void> {
    const { prints, trusted, find, pause = 40 } = this.#options;
    const round = ++this.#round;
    for (const { file: boutFile, recordings } of bouts)
      for (const { file: written, present } of recordings) {
        const place = placeOf(boutFile, written);
        if (!present || this.#seen.has(place)) continue;
        await wait(pause);
        if (round !== this.#round || !trusted()) return;
        this.#seen.add(place);
        const real = await find(boutFile, written);
        if (real !== undefined) await prints.see(place, real);
      }
  }

  stop(): void {
    this.#round++;
  }
}
