// Whatever a log holds, in whatever order, the sheet adds up, and says what an independent count says.

import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { sides, type Side } from "../../src/bout/words";
import { evidenceOf, figuresOf, sheetOf, tablesOf, type Figures, type Sheet } from "../../src/figures";
import { anyLedger } from "../rules/any-ledger";
import { plainCount } from "./plain-count";
import { plainTables } from "./plain-tables";

describe("for any log of entries in any order", () => {
  test("the sheet agrees with a plain count of the written entries", () => {
    fc.assert(
      fc.property(anyLedger, ({ written, ledger }) => {
        const { sheet } = sheetOf(ledger, []);
        const { closed: _closed, order: _order, ...counts } = plainCount(written, ledger.bout.about);
        expect(counts).toEqual(plainly(sheet));
      }),
      { numRuns: 300 },
    );
  });

  test("the tables agree with a plain count of the written entries", () => {
    fc.assert(
      fc.property(anyLedger, ({ written, ledger }) => {
        const { closed, order } = plainCount(written, ledger.bout.about);
        const figures = figuresOf(ledger);
        expect(tablesIn(figures)).toEqual(plainTables(closed));
        const runs = (order.replaceAll("|", "") === "" ? [] : order.match(/l+|r+/g)) ?? [];
        const pairs = (pair: string) => [...order.matchAll(new RegExp(`(?=${pair})`, "g"))].length;
        const { order: found } = figures.flow;
        if (found === null) expect(new Set(runs.join("")).size).toBeLessThan(2);
        else {
          const { afterHit, afterScoring, longest } = found;
          expect(found.runs.count).toBe(runs.length);
          expect([afterHit.left.count, afterHit.right.count]).toEqual([pairs("rl"), pairs("lr")]);
          expect([afterScoring.left.count, afterScoring.right.count]).toEqual([pairs("ll"), pairs("rr")]);
          const lengths = runs.map((run) => (run.startsWith("l") ? run.length : 0));
          expect(longest.left.count).toBe(Math.max(...lengths));
        }
      }),
      { numRuns: 300 },
    );
  });

  test("every phrase has one outcome, and every figure as many entries as it counts", () => {
    fc.assert(
      fc.property(anyLedger, ({ ledger }) => {
        const figures = figuresOf(ledger);
        for (const side of sides) {
          const endings = Object.values(figures.opened[side]);
          const all = endings.flatMap(({ outcomes }) =>
            Object.values(outcomes).flatMap(({ entries }) => entries),
          );
          expect(all.toSorted((one, other) => one - other)).toEqual(figures.phrases);
        }
        const check = (value: unknown): void => {
          if (typeof value === "number") expect(Number.isFinite(value)).toBe(true);
          if (typeof value !== "object" || value === null) return;
          if ("count" in value && "of" in value && "entries" in value)
            expect(value.entries).toHaveLength(Number(value.count));
          Object.values(value).forEach(check);
        };
        check(figures);
        for (const { columns, rows } of tablesOf(figures, ledger))
          for (const row of rows) expect(row).toHaveLength(columns.length);
      }),
      { numRuns: 150 },
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

/** The counts that are not 0, under the keys of `plainTables`. */
function tablesIn({ opened, answers, targets, tags }: Figures): ReturnType<typeof plainTables> {
  const word = (one: Figures["answers"]["firsts"][number] | null) =>
    one === null ? "" : `${one.doer} ${one.group}`;
  const counts = (found: readonly (readonly [string, number])[]) =>
    Object.fromEntries(found.filter(([, count]) => count > 0));
  return {
    opened: counts(
      sides.flatMap((side) =>
        Object.entries(opened[side]).flatMap(([by, { outcomes }]) =>
          Object.entries(outcomes).map(
            ([outcome, { count }]) => [`${side}/${by}/${outcome}`, count] as const,
          ),
        ),
      ),
    ),
    answers: counts(
      answers.cells.map(({ first, second, phrases }) => [`${word(first)}/${word(second)}`, phrases.length]),
    ),
    targets: counts(
      sides.flatMap((side) =>
        targets[side].rows.map(({ target, share }) => [`${side}/${target}`, share.count] as const),
      ),
    ),
    tags: counts(tags.rows.map(({ tag, phrases }) => [tag, phrases.length])),
  };
}
