import { expect, test } from "vitest";
import { foldsOf, type Fold } from "../../src/host/folding";
import { outlineOf } from "../../src/host/outline";
import { boutText, phrase, second, studied } from "./bouts";

const names = (log: readonly object[]) =>
  outlineOf(studied(boutText(log)).study.ledger).map(({ name, lines }) => [
    name,
    ...lines.map((line) => line.name),
  ]);

test("The outline has a heading for each period and tells what happened in it", () => {
  const log = [
    { kind: "shot", at: second(0), name: "main" },
    phrase(1, 2, { actions: ["left attack"], lamps: { left: "valid" }, award: "left" }),
    phrase(3, 4, { actions: ["both attack"], lamps: {}, award: "none", because: "simultaneous" }),
    { kind: "card", at: second(5), to: "left", card: "red", for: "turning the back" },
    { kind: "period", at: second(6), number: 2 },
    phrase(7, undefined, { actions: ["right attack"] }),
  ];
  expect(names(log)).toEqual([
    [
      "Period 1, 0:0 to 1:1",
      "1. left attack: touch left, 1:0",
      "2. both attack: no touch (simultaneous), 1:0",
      "Red card, left (turning the back): touch right",
    ],
    ["Period 2, 1:1 to 1:1", "Period 2 begins", "3. right attack: not halted yet"],
  ]);
});

test("A phrase whose call was changed has the score after its review", () => {
  const log = [
    phrase(1, 2, { actions: ["left attack"], lamps: { left: "valid", right: "valid" }, award: "left" }),
    { kind: "review", at: second(3), by: "right", result: "changed", award: "right" },
  ];
  expect(names(log)[0]?.[1]).toBe("1. left attack: touch left, changed by review to touch right, 0:1");
});

test("A long note of several lines is one short line of the outline", () => {
  const [, line = ""] =
    names([{ kind: "note", at: second(1), text: `one\ntwo\t${"x".repeat(500)}` }])[0] ?? [];
  expect(line).toMatch(/^One two x+…$/);
  expect(line).toHaveLength(120);
});

test("An empty log has no outline", () => {
  expect(names([])).toEqual([]);
});

const folds = (text: string): readonly Fold[] => {
  const { reading, study } = studied(text);
  const { log } = reading.scan;
  if (log === undefined) throw new Error("no log");
  return foldsOf(outlineOf(study.ledger), log, (offset) => text.slice(0, offset).split("\n").length - 1);
};

const note = (at: number) => `{ "kind": "note", "at": "${second(at)}" }`;
const period = (at: number, number: number) =>
  `{ "kind": "period", "at": "${second(at)}", "number": ${number} }`;
const written = (log: string) => boutText([]).replace("[]", log);

test("Each period folds from its first entry to its last", () => {
  const text = written(`[\n${[note(1), note(2), period(3, 2), note(4), note(5)].join(",\n")}\n]`);
  expect(folds(text)).toEqual([
    { start: 1, end: 2 },
    { start: 3, end: 5 },
  ]);
});

test("A first entry of several lines keeps its own fold", () => {
  const text = written(`[\n{\n"kind": "note",\n"at": "${second(1)}" },\n${note(2)},\n${note(3)}\n]`);
  // Its own fold begins on line 1; the period's on line 3, where the entry ends.
  expect(folds(text)).toEqual([{ start: 3, end: 5 }]);
});

test("Where a period begins or the log ends in the middle of a line, no fold crosses another", () => {
  expect(folds(written(`[\n${note(1)},\n${note(2)}, ${period(3, 2)},\n${note(4)} ]`))).toEqual([]);
  expect(folds(written(`[\n${note(1)},\n${note(2)},\n${note(3)}]`))).toEqual([{ start: 1, end: 2 }]);
  expect(folds(written(`[${note(1)}, ${note(2)}]`))).toEqual([]);
  expect(folds(written(`[ ${note(1)},\n${note(2)},\n${note(3)}\n]`))).toEqual([]);
});
