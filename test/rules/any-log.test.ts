// Whatever a log holds, in whatever order, the ledger counts it and the audit gets through it.

import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { sides } from "../../src/bout/words";
import { findingsOf, isRuleId, ledger as count, remediesOf } from "../../src/rules";
import { anyLedger } from "./any-ledger";
import { ledgerOf } from "./bouts";

const runs = { numRuns: 10_000 };

test("the ledger of any log in any order adds up, row by row", { timeout: 120_000 }, () => {
  fc.assert(
    fc.property(anyLedger, ({ ledger: counted }) => {
      // The ledger has a row for each entry, its state leading to the next.
      const { rows, bout, start, end, byEntry, touches } = counted;
      if (rows.length !== bout.log.length) return false;
      let state = start;
      for (const row of rows) {
        if (row.before !== state || byEntry[row.record.index] !== row) return false;
        state = row.state;
        // No appeal is owed, and nobody's fencing time runs backwards.
        if (state.appeals !== null && (state.appeals.left < 0 || state.appeals.right < 0)) return false;
        if (state.fencing < row.before.fencing) return false;
      }
      if (end !== state) return false;
      // A side's score is its touches, penalties, unseen and corrected touches.
      return sides.every((side, index) => {
        const { phrases, penalties, unseen, corrected } = touches[side];
        return phrases + penalties + unseen + corrected === end.score[index];
      });
    }),
    runs,
  );
});

describe("the audit of any log of entries in any order", () => {
  test("names rules of the book, in order, at entries that are there", { timeout: 120_000 }, () => {
    fc.assert(
      fc.property(anyLedger, ({ ledger: counted }) => {
        const found = findingsOf(counted);
        let last = -1;
        for (const { rule, entry = -1, at, related = [], message, source } of found) {
          if (!isRuleId(rule) || entry < last || message === "" || source === "") return false;
          if (counted.byEntry[entry]?.record.at !== at) return false;
          if (related.some((other) => counted.byEntry[other.entry] === undefined)) return false;
          last = entry;
        }
        return true;
      }),
      runs,
    );
  });

  test("offers remedies that change no board and no card but to confirm it", () => {
    fc.assert(
      fc.property(anyLedger, ({ ledger: counted }) =>
        findingsOf(counted).every((finding) =>
          remediesOf(finding, counted).every(({ change }) => {
            if (change.do !== "change") return change.do === "insert";
            const kind = counted.byEntry[change.index]?.kind;
            const written = change.fields.map(({ path }) => path.join("."));
            return kind !== "board" && kind !== "card"
              ? true
              : written.every((field) => field === "confirmed" || field === "at");
          }),
        ),
      ),
      { numRuns: 500 },
    );
  });
});

test("a fact nobody could confirm never weighs more than a note", () => {
  fc.assert(
    fc.property(anyLedger, ({ ledger: counted }) =>
      findingsOf(counted).every(
        ({ message, severity }) => !message.includes("(check the current book") || severity === "note",
      ),
    ),
    { numRuns: 500 },
  );
});

test("absurdly long logs are audited in good time", { timeout: 20_000 }, () => {
  // Nothing is measured here (see the bench); with work that grows by the square these would take minutes.
  const entry = (kind: string, fields: object, index: number) => ({
    index,
    entry: { kind, at: index, ...fields } as never,
    at: "0:00:00.000",
    offset: 0,
    length: 0,
  });
  for (const log of [
    Array.from({ length: 10_000 }, (_, index) => entry("card", { to: "left", card: "yellow" }, index)),
    Array.from({ length: 60_000 }, (_, index) =>
      index === 0
        ? entry("phrase", { start: 0, halt: 1, award: "left", lamps: { left: "valid" } }, 0)
        : entry("review", { by: "referee", result: "kept", award: "left" }, index),
    ),
  ]) {
    const { bout, edition } = ledgerOf({ weapon: "foil" }, []);
    const counted = count({ ...bout, log }, edition);
    expect(counted.rows).toHaveLength(log.length);
    expect(findingsOf(counted).length).toBeGreaterThan(log.length / 2);
  }
});
