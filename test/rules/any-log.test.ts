// Whatever a log holds, in whatever order, the ledger counts it.

import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { sides } from "../../src/bout/words";
import { findingsOf } from "../../src/rules";
import { anyLedger } from "./any-ledger";

describe("for any log of entries in any order", () => {
  test("the ledger has a row for each entry, its state leading to the next", () => {
    fc.assert(
      fc.property(anyLedger, ({ ledger: counted }) => {
        expect(counted.rows).toHaveLength(counted.bout.log.length);
        let state = counted.start;
        for (const row of counted.rows) {
          expect(row.before).toBe(state);
          expect(counted.byEntry[row.record.index]).toBe(row);
          state = row.state;
        }
        expect(counted.end).toBe(state);
      }),
    );
  });

  test("a side's score is its touches, penalties, unseen and corrected touches", () => {
    fc.assert(
      fc.property(anyLedger, ({ ledger: { touches, end } }) => {
        sides.forEach((side, index) => {
          const { phrases, penalties, unseen, corrected } = touches[side];
          expect(phrases + penalties + unseen + corrected).toBe(end.score[index]);
        });
      }),
    );
  });

  test("findings stand in order and name their entries", () => {
    fc.assert(
      fc.property(anyLedger, ({ ledger: counted }) => {
        const found = findingsOf(counted);
        const entries = found.map(({ entry }) => entry ?? -1);
        expect(entries).toEqual(entries.toSorted((one, other) => one - other));
        for (const { entry, at } of found) expect(counted.byEntry[entry ?? -1]?.record.at).toBe(at);
      }),
    );
  });
});
