// What must hold of every bout the rules allow, by the ledger's rows: conclusions from the articles named beside each.

import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { sides, sidesOf } from "../../src/bout/words";
import { findingsOf, ledger, offenceNamed, type Ledger, type Row } from "../../src/rules";
import { boutOf } from "./bouts";
import { lawfulBout, type LawfulBout } from "./lawful";

interface Counted extends LawfulBout {
  readonly ledger: Ledger;
}

const counted: fc.Arbitrary<Counted> = lawfulBout.map((bout) => {
  const { edition, weapon, format, video, log } = bout;
  return { ...bout, ledger: ledger(boutOf({ rules: edition.id, weapon, format, video }, log), edition) };
});

/** Holds for many lawful bouts, and is not empty: `seen` has to happen that often among them. */
function holds(check: (bout: Counted, seen: () => void) => void, numRuns = 400, least = 20): void {
  let times = 0;
  fc.assert(
    fc.property(counted, (bout) => check(bout, () => times++)),
    { numRuns },
  );
  expect(times).toBeGreaterThanOrEqual(least);
}

function rowsOf<K extends Row["kind"]>({ rows }: Ledger, kind: K): Extract<Row, { kind: K }>[] {
  return rows.filter((row): row is Extract<Row, { kind: K }> => row.kind === kind);
}

const gained = ({ before, state }: Row) => [
  state.score[0] - before.score[0],
  state.score[1] - before.score[1],
];

describe("in every bout the rules allow", () => {
  test("there is no error and no warning, and the score and the winner are the referee's own", () =>
    holds(({ ledger, score, winner }, seen) => {
      expect(findingsOf(ledger).filter(({ severity }) => severity !== "note")).toEqual([]);
      expect(ledger.end.score).toEqual(score);
      if (winner === undefined) return;
      expect(ledger.winner).toBe(winner);
      seen();
    }, 2000));

  test("fencing time grows only between command and halt, 180 s a period and 60 s extra at most (t.37, t.39, t.40)", () =>
    holds(({ ledger, format }, seen) => {
      for (const row of ledger.rows) {
        const { before, state } = row;
        expect(state.fencing - before.fencing).toBe(row.kind === "phrase" ? row.phrase.fencing : 0);
        if (format === "training") continue;
        expect(state.fencingInPeriod).toBeLessThanOrEqual(state.period === "extra" ? 60_000 : 180_000);
        if (state.fencingInPeriod > 100_000) seen();
      }
    }));

  test("a phrase gives one touch at most, at épée one each at most (t.89, t.92, t.106)", () =>
    holds(({ ledger, weapon }, seen) => {
      for (const row of rowsOf(ledger, "phrase")) {
        const [left = 0, right = 0] = gained(row);
        expect(Math.min(left, right)).toBeGreaterThanOrEqual(0);
        expect(left + right).toBeLessThanOrEqual(weapon === "epee" ? 2 : 1);
        expect(Math.max(left, right)).toBeLessThanOrEqual(1);
        if (left + right > 0) seen();
      }
    }));

  test("a red card is one more for the opponent, never one less for the offender (t.162)", () =>
    holds(({ ledger }, seen) => {
      for (const row of rowsOf(ledger, "card")) {
        const { card, to } = row.entry;
        const touch = card === "red" || card === "P-red" ? 1 : 0;
        expect(gained(row)).toEqual([to === "left" ? 0 : touch, to === "right" ? 0 : touch]);
        if (card === "red") seen();
      }
    }));

  test("a fencer gets one yellow card at most, and none after a red one (t.165, t.162.2)", () =>
    holds(({ ledger: { end } }, seen) => {
      for (const side of sides) {
        const held = end.cards[side];
        expect(held.filter((card) => card === "yellow").length).toBeLessThanOrEqual(1);
        if (held.includes("red")) expect(held.lastIndexOf("yellow")).toBeLessThan(held.indexOf("red"));
        if (held.includes("yellow")) seen();
      }
    }));

  test("a group 2 offence is red without any yellow (t.166)", () =>
    holds(({ ledger }, seen) => {
      for (const { entry } of rowsOf(ledger, "card"))
        if (offenceNamed(ledger.edition, entry.for)?.group === 2) {
          expect(entry.card).toBe("red");
          seen();
        }
    }));

  test("an annulled touch takes the score back by just that touch (t.56.1)", () =>
    holds(({ ledger }, seen) => {
      for (const row of rowsOf(ledger, "phrase"))
        if (row.entry.annulled !== undefined) {
          expect(gained(row)).toEqual([0, 0]);
          seen();
        }
    }));

  test("only a kept call spends an appeal, the asker's, and nobody owes one (t.61, t.62.2)", () =>
    holds(({ ledger }, seen) => {
      for (const row of ledger.rows)
        for (const side of sides) {
          const [before, after] = [row.before.appeals?.[side] ?? 0, row.state.appeals?.[side] ?? 0];
          const spent = row.kind === "review" && row.entry.by === side && row.entry.result === "kept";
          expect(before - after).toBe(spent ? 1 : 0);
          expect(after).toBeGreaterThanOrEqual(0);
          if (spent) seen();
        }
    }));

  test("no action is reviewed twice, and the last touch from a level score was looked at (t.62.3, t.62.5)", () =>
    holds(
      ({ ledger, video, format }, seen) => {
        const needed = ledger.edition.formats[format].touches.value;
        for (const { phrase, before } of rowsOf(ledger, "phrase")) {
          expect(phrase.reviews.length).toBeLessThanOrEqual(1);
          const level = before.score[0] === before.score[1];
          const one = phrase.stands === "left" || phrase.stands === "right";
          if (!video || !one || !level || needed === null) continue;
          if (before.period !== "extra" && before.score[0] !== needed - 1) continue;
          expect(phrase.reviews).toHaveLength(1);
          seen();
        }
      },
      800,
      3,
    ));

  test("P-cards come in steps, after a minute without a hit, not in pools and not at 14:14 (t.124)", () =>
    holds(({ ledger, format, edition }, seen) => {
      const cards = rowsOf(ledger, "card").filter(({ entry }) => entry.card.startsWith("P-"));
      expect(cards.map(({ entry }) => entry.card)).toEqual(
        edition.unwillingness.steps.slice(0, cards.length),
      );
      const needed = edition.formats[format].touches.value ?? Infinity;
      for (const { before, entry } of cards) {
        expect(["elimination", "veterans"]).toContain(format);
        expect(Math.min(...before.score)).toBeLessThan(needed - 1);
        if (entry.card !== "P-black") expect(sidesOf(entry.to)).toHaveLength(2);
        seen();
      }
    }));

  test("the first sabre period ends by time or at the break, whichever comes first (t.39.1, t.42)", () =>
    holds(({ ledger, weapon, format, edition }, seen) => {
      const { sabreBreak } = edition.formats[format];
      if (weapon !== "sabre" || sabreBreak.value === null) return;
      for (const { before } of rowsOf(ledger, "phrase"))
        if (before.period === 1) {
          expect(Math.max(...before.score)).toBeLessThan(sabreBreak.value);
          seen();
        }
    }));

  test("a white lamp is lit at foil only (t.78, t.91, t.98)", () =>
    holds(({ ledger, weapon }, seen) => {
      for (const { entry } of rowsOf(ledger, "phrase"))
        if (JSON.stringify(entry.lamps).includes("off-target")) {
          expect(weapon).toBe("foil");
          seen();
        }
    }));

  test("lots are drawn before the extra minute, and a score nobody changes stays level (t.38.2, t.40.3)", () =>
    holds(
      ({ ledger }, seen) => {
        for (const { entry, before, state } of rowsOf(ledger, "period"))
          if (entry.number === "extra") {
            expect(before.priority).not.toBeNull();
            expect(state.score[0]).toBe(state.score[1]);
            seen();
          }
        const last = ledger.rows.at(-1);
        if (last?.kind === "end" && last.entry.by === "priority") {
          expect(last.state.score[0]).toBe(last.state.score[1]);
          expect(ledger.winner).toBe(last.state.priority);
        }
      },
      800,
      3,
    ));

  test("nobody in a fixed chair leaves the piste or crosses the feet (derived)", () =>
    holds(({ ledger, edition }, seen) => {
      if (!edition.seated.value) return;
      for (const { entry } of rowsOf(ledger, "card")) {
        expect(offenceNamed(edition, entry.for)?.standing).not.toBe(true);
        seen();
      }
    }));
});
