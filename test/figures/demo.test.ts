// The demo that ships, against the script it was drawn from.

import { readFileSync } from "node:fs";
import path from "node:path";
import { describe, expect, test } from "vitest";
import { readBout } from "../../src/bout/read";
import type { Entry } from "../../src/bout/schema";
import { sides } from "../../src/bout/words";
import { timeOf } from "../../src/bout/written";
import { sheetOf } from "../../src/figures";
import { studyOf } from "../../src/rules";
import { finalScore, phrases, scoreAt } from "../demo/timeline.mjs";
import { frameAt } from "../demo/truth.mjs";

const text = readFileSync(path.join(import.meta.dirname, "../../media/demo/demo.bout.json"), "utf8");
const study = studyOf(readBout(text));
if (study === undefined) throw new Error("the demo can't be read");
const { ledger, findings } = study;
const { sheet } = sheetOf(ledger, findings);

/** 25 frames a second. */
const frameOf = (entry: Entry) => Math.round(timeOf(entry) / 40);

describe("the demo", () => {
  test("has the score, the winner and the phrases of its script", () => {
    expect(sheet.score).toEqual(finalScore);
    expect(sheet.winner).toBe("right");
    expect(sheet.phrases).toBe(phrases.length);
  });

  test("has the script's score wherever the scoreboard was read", () => {
    const boards = ledger.rows.filter(({ kind }) => kind === "board");
    expect(boards.length).toBeGreaterThan(5);
    for (const { entry, state } of boards) expect(state.score).toEqual(scoreAt(frameOf(entry)).score);
  });

  test("has one finding: the board that forgot a touch", () => {
    expect(findings.map(({ rule, severity }) => [rule, severity])).toEqual([["board-disagrees", "warning"]]);
    expect(findings[0]?.message).toContain("8:8");
  });

  test("has the fencing time of its script, in frames of 40 ms", () => {
    const frames = phrases
      .filter(({ play }) => play !== false)
      .reduce((sum, { start, halt }) => sum + (halt - start), 0);
    expect(sheet.fencingSeconds).toBeCloseTo(frames / 25, 9);
  });

  test("has as many touches from phrases, cards and elsewhere as its score", () =>
    sides.forEach((side, index) => {
      const { touches, penaltyTouches, unseenTouches, correctedTouches } = sheet.sides[side];
      expect([touches + penaltyTouches, unseenTouches, correctedTouches]).toEqual([finalScore[index], 0, 0]);
    }));

  test("drifts towards the right, each step within its stated error of the truth", () => {
    const steps = sheet.drift?.steps ?? [];
    expect(steps.length).toBeGreaterThan(20);
    expect(sheet.drift?.towards).toBe("right");
    for (const { from, to, along, across, error } of steps) {
      const [before, after] = [from, to].map((entry) => {
        const row = ledger.byEntry[entry];
        if (row === undefined) throw new Error(`no entry ${entry}`);
        return frameAt(frameOf(row.entry));
      });
      if (before === undefined || after === undefined || across === null || error.across === null)
        throw new Error("the demo's fit has five points");
      expect(Math.abs(along - (after.along - before.along))).toBeLessThan(error.along);
      expect(Math.abs(across - (after.across - before.across))).toBeLessThan(error.across);
    }
  });
});
