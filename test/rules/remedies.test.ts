// What is offered for a finding: a slip is put right, what the officials did is kept as evidence.

import { describe, expect, test } from "vitest";
import { editBout } from "../../src/bout/edit";
import { readBout } from "../../src/bout/read";
import { remediesOf, studyOf, type RuleId } from "../../src/rules";
import { at, phrase, textOf, type About, type Written } from "./bouts";

const left = (start: string, halt: string, fields: Written = {}) =>
  phrase(start, halt, { award: "left", ...fields });
const board = (time: string, score: [number, number]): Written => ({ kind: "board", at: at(time), score });

function offersFor(rule: RuleId, about: About, log: readonly Written[]) {
  const text = textOf(about, log);
  const reading = readBout(text);
  const study = studyOf(reading);
  const finding = study?.findings.find((each) => each.rule === rule);
  if (study === undefined || finding === undefined) throw new Error(`no finding ${rule}`);
  return remediesOf(finding, study.ledger).map((remedy) => {
    const edited = editBout(reading.scan, remedy.change);
    if (!edited.ok) throw new Error(edited.problem.message);
    const after = studyOf(readBout(edited.value.text));
    return {
      ...remedy,
      left: after?.findings.filter((each) => each.rule === rule && each.severity !== "note").length,
      log: after?.bout.log.map(({ entry }) => entry) ?? [],
      score: after?.ledger.end.score,
    };
  });
}

describe("a slip of the tagger is put right by one edit", () => {
  test("start and halt are swapped", () => {
    const offers = offersFor("halt-before-start", {}, [left("0:12", "0:10")]);
    expect(offers).toMatchObject([{ kind: "put right", left: 0 }]);
    expect(offers[0]?.log).toMatchObject([{ start: 10_000, halt: 12_000 }]);
  });

  test.each([
    ["too early, below its place", [left("0:10", "0:12"), board("0:40", [1, 0]), left("0:20", "0:22")]],
    ["too late, above its place", [board("0:40", [2, 0]), left("0:10", "0:12"), left("0:20", "0:22")]],
    [
      "the last of many",
      [left("0:10", "0:12"), left("0:20", "0:22"), left("0:30", "0:32"), left("0:01", "0:02")],
    ],
  ])("an entry %s is put in its place", (_, log) => {
    const offers = offersFor("out-of-order", {}, log);
    expect(offers).toMatchObject([{ kind: "put right", left: 0 }]);
    expect(offers[0]?.log).toHaveLength(log.length);
  });

  test("a missing period is inserted above the phrase that is too much", () => {
    const offers = offersFor("period-too-long", {}, [
      left("0:10", "3:00"),
      board("3:05", [1, 0]),
      left("4:10", "4:40"),
    ]);
    expect(offers).toMatchObject([{ title: "Insert the start of period 2 above this phrase", left: 0 }]);
    expect(offers[0]?.log[2]).toMatchObject({ kind: "period", number: 2 });
  });

  test("so is the one after the sabre break", () => {
    const opening = { kind: "opening", at: at("0:00"), score: [7, 4], period: 1 };
    const offers = offersFor("missing-sabre-break", { weapon: "sabre" }, [
      opening,
      left("0:10", "0:12"),
      left("1:20", "1:22"),
    ]);
    expect(offers).toMatchObject([{ kind: "put right", left: 0 }]);
  });

  test("no period is offered where the format has no more, or where one phrase alone is too long", () => {
    const long = [left("0:10", "3:00"), left("4:10", "4:40")];
    expect(offersFor("period-too-long", { format: "pool" }, long)).toEqual([]);
    expect(offersFor("period-too-long", {}, [left("0:10", "4:00")])).toEqual([]);
  });
});

describe("where the officials or the board say something else, nothing written is lost", () => {
  test("a board that disagrees: it happened, or the score was corrected to it", () => {
    const offers = offersFor("board-disagrees", {}, [left("0:10", "0:12"), board("0:20", [2, 1])]);
    expect(offers).toMatchObject([
      { kind: "confirm", title: "This is what happened", left: 0, score: [1, 0] },
      { kind: "correct the score", left: 0, score: [2, 1] },
    ]);
    for (const { log } of offers)
      expect(log.find(({ kind }) => kind === "board")).toMatchObject({ score: [2, 1] });
  });

  test("a second yellow: it happened, or the officials corrected it to a touch for the opponent", () => {
    const yellow = (time: string) => ({ kind: "card", at: at(time), to: "left", card: "yellow" });
    const offers = offersFor("second-yellow", {}, [yellow("0:10"), yellow("0:20")]);
    expect(offers).toMatchObject([
      { kind: "confirm", left: 0, score: [0, 0] },
      { kind: "correct the score", score: [0, 1] },
    ]);
    for (const { log } of offers)
      expect(log.filter(({ kind }) => kind === "card")).toMatchObject([
        { card: "yellow" },
        { card: "yellow" },
      ]);
  });

  test("a touch that may have been annulled: it stood, or the officials took it away", () => {
    const card = { kind: "card", at: at("0:20"), to: "left", card: "yellow", for: "turning the back" };
    const text = readBout(textOf({}, [left("0:10", "0:12"), card]));
    const study = studyOf(text);
    const finding = study?.findings.find(({ rule }) => rule === "touch-not-annulled");
    if (study === undefined || finding === undefined) throw new Error("no finding");
    expect(remediesOf(finding, study.ledger).map(({ title }) => title)).toEqual([
      "This is what happened",
      "The officials corrected the score here, to 0:0",
    ]);
  });

  test("nothing is offered twice: what is confirmed needs no confirming", () => {
    const study = studyOf(
      readBout(textOf({}, [left("0:10", "0:12"), { ...board("0:20", [2, 1]), confirmed: true }])),
    );
    const [finding] = study?.findings ?? [];
    expect(finding?.severity).toBe("note");
    expect(study === undefined || finding === undefined ? [] : remediesOf(finding, study.ledger)).toEqual([]);
  });

  test("what is still to be tagged has no remedy but tagging it", () =>
    expect(offersFor("not-yet-called", {}, [phrase("0:10", "0:12")])).toEqual([]));
});
