import { readFileSync } from "node:fs";
import path from "node:path";
import { describe, expect, it } from "vitest";
import { readBout } from "../../src/bout/read";
import { pickedPhrases, pickSchema } from "../../src/figures";
import { sceneOf } from "../../src/host/scene";
import { studyOf } from "../../src/rules";
import {
  countAndLength,
  lengthSaid,
  neighbourPicked,
  pickQuestions,
  withAnswer,
} from "../../src/viewer/picks/pick-choices";

const text = readFileSync(path.join(import.meta.dirname, "../../media/demo/demo.bout.json"), "utf8");
const reading = readBout(text);
const study = studyOf(reading);
if (study === undefined) throw new Error("the demo can't be read");
const { head, items } = sceneOf(reading, study, true);

describe("picking phrases in the viewer", () => {
  it("offers no choice that the filter does not take", () => {
    const [left] = head.names;
    for (const base of [{}, { fencer: left }])
      for (const question of pickQuestions(head, items, base))
        for (const { value } of question.choices) {
          const pick = withAnswer(base, question, value, true);
          expect(
            pickSchema.safeParse(pick).error?.issues,
            `${question.part} ${String(value)}`,
          ).toBeUndefined();
        }
  });

  it("offers phrases by the number the ledger gives them", () => {
    const numbers = pickQuestions(head, items, {}).find(({ part }) => part === "numbers");
    const rows = study.ledger.rows.filter((row) => row.kind === "phrase");
    expect(numbers?.choices.map(({ value }) => value)).toEqual(rows.map(({ phrase }) => phrase.number));
    const pick = pickSchema.parse(
      withAnswer(withAnswer({}, numbers ?? expect.fail(), 2, true), numbers ?? expect.fail(), 5, true),
    );
    expect(pickedPhrases(study.ledger, pick).entries).toEqual(
      [rows[1], rows[4]].map((row) => row?.record.index),
    );
  });

  it("offers only actions of which the bout has a phrase", () => {
    for (const question of pickQuestions(head, items, {}).filter(({ part }) => part === "actions"))
      for (const { value } of question.choices) {
        const pick = pickSchema.parse(withAnswer({}, question, value, true));
        expect(pickedPhrases(study.ledger, pick).entries.length, String(value)).toBeGreaterThan(0);
      }
  });

  it("drops own and opponent when nobody is seen from any more", () => {
    const fencer = { part: "fencer", several: false };
    const pick = { fencer: head.names[0], award: ["own", "both"], opener: ["opponent"] };
    expect(withAnswer(pick, fencer, head.names[0], false)).toEqual({ award: ["both"] });
  });

  it("tells how many there are and how long they last", () => {
    expect(lengthSaid(61_400)).toBe("1 minute 1 second");
    expect(lengthSaid(120_000)).toBe("2 minutes");
    expect(countAndLength([])).toBe("no phrase");
  });

  it("goes to the picked phrase before and after, and no further", () => {
    const phrases = items.filter(({ kind }) => kind === "phrase");
    const [first, second] = phrases;
    expect(neighbourPicked(phrases, first?.at ?? 0, 1)).toBe(second);
    expect(neighbourPicked(phrases, first?.at ?? 0, -1)).toBeUndefined();
  });
});
