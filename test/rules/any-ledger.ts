// Ledgers of any log whatever, in any order, for tests of what must hold of all of them.

import fc from "fast-check";
import type { Bout } from "../../src/bout/read";
import { entrySchema } from "../../src/bout/schema";
import { formats, weapons } from "../../src/bout/words";
import { editions, ledger, type Ledger } from "../../src/rules";
import { anyEntry, writtenTime } from "../bout/texts";

export interface WrittenLedger {
  readonly written: readonly Readonly<Record<string, unknown>>[];
  readonly ledger: Ledger;
}

export const anyLedger: fc.Arbitrary<WrittenLedger> = fc
  .record({
    written: fc.array(anyEntry, { maxLength: 30 }),
    weapon: fc.constantFrom(...weapons),
    format: fc.constantFrom(...formats),
    video: fc.constantFrom(true, false, undefined),
    edition: fc.constantFrom(...editions.values()),
    skipped: fc.nat(3),
  })
  .map(({ written, weapon, format, video, edition, skipped }) => {
    const bout: Bout = {
      version: 1,
      about: { weapon, format, rules: edition.id, ...(video === undefined ? {} : { video }) },
      fencers: { left: { name: "Tarn" }, right: { name: "Odrey" } },
      recordings: [],
      tagged: undefined,
      // Entries that could not be read leave holes in the numbering.
      log: written.map((entry, index) => ({
        index: index * (skipped + 1),
        entry: entrySchema.parse(entry),
        at: writtenTime(entry),
        offset: 0,
        length: 0,
      })),
    };
    return { written, ledger: ledger(bout, edition) };
  });
