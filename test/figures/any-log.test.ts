// Whatever a log holds, in whatever order, the sheet adds up, and says what an independent count says.

import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { sides, type Side } from "../../src/bout/words";
import { evidenceOf, sheetOf, type Sheet } from "../../src/figures";
import { anyLedger } from "../rules/any-ledger";
import { plainCount } from "./plain-count";

describe("for any log of entries in any order", () => {
  test("the sheet agrees with a plain count of the written entries", () => {
    fc.assert(
      fc.property(anyLedger, ({ written, ledger }) => {
        const { sheet } = sheetOf(ledger, []);
        expect(plainCount(written, ledger.bout.about)).toEqual(plainly(sheet));
      }),
      { numRuns: 300 },
    );
  });

  test("the sheet adds up, and each number has as many entries behind it", () => {
    fc.assert(
      fc.property(anyLedger, ({ ledger: counted }) => {
        const { sheet, evidence } = sheetOf(counted, []);
        const { left, right, neither, both = 0 } = sheet.bothLamps;
        expect(left + right + neither + both).toBeLessThanOrEqual(sheet.phrases);
        expect(sheet.tagged.entries).toHaveLength(sheet.tagged.count);
        for (const side of sides) {
          const figures = sheet.sides[side];
          const byAction = Object.values(figures.touchesByAction);
          expect(byAction.reduce((sum, count) => sum + count, 0)).toBe(figures.touches);
          expect(evidence.sides[side].touches).toHaveLength(figures.touches);
          expect(evidence.sides[side].penaltyTouches).toHaveLength(figures.penaltyTouches);
          for (const rate of [...Object.values(figures.attempts), figures.touchesPerPhrase]) {
            expect(rate.count).toBeLessThanOrEqual(rate.of);
            expect(rate.entries).toHaveLength(rate.count);
            expect(new Set(rate.entries).size).toBe(rate.count);
          }
          const { opened } = figures;
          expect(opened.for + opened.against + opened.nothing).toBeGreaterThanOrEqual(opened.phrases);
        }
        expect(evidenceOf(counted).phrases).toHaveLength(sheet.phrases);
        expect(JSON.parse(JSON.stringify(sheet))).toEqual(sheet);
      }),
    );
  });
});

/** The parts of a sheet that a plain count knows. */
function plainly({ score, phrases, fencingSeconds, tagged, sides: figures, bothLamps, reviews }: Sheet) {
  const side = (name: Side) => {
    const { touches, penaltyTouches, unseenTouches, correctedTouches } = figures[name];
    const { touchesByAction, attempts, opened, appeals, cards } = figures[name];
    return {
      touches,
      penaltyTouches,
      unseenTouches,
      correctedTouches,
      touchesByAction,
      attempts: Object.fromEntries(
        Object.entries(attempts).map(([action, { count, of }]) => [action, [count, of]]),
      ),
      opened,
      appeals: [appeals.asked, appeals.granted, appeals.left, appeals.success.of],
      cards,
    };
  };
  return {
    score,
    phrases,
    fencingSeconds,
    tagged: tagged.count,
    left: side("left"),
    right: side("right"),
    bothLamps: { both: 0, ...bothLamps },
    byOfficials: reviews.byOfficials,
  };
}
