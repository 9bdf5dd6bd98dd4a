import { expect, test } from "vitest";
import { readBout } from "../../src/bout/read";
import { findingsInText } from "../../src/host/text-findings";
import { studyOf } from "../../src/rules/index";
import { boutText, phrase, second } from "./bouts";

function found(text: string): { rule: string; marked: string }[] {
  const reading = readBout(text);
  return findingsInText(reading, studyOf(reading)).map(({ rule, offset, length }) => ({
    rule,
    marked: text.slice(offset, offset + length),
  }));
}

const played = (from: number, to: number, rest: object = {}) =>
  phrase(from, to, { lamps: {}, award: "none", ...rest });

test("A finding of the rules marks its whole entry", () => {
  const board = { kind: "board", at: second(4), score: [3, 0] };
  expect(found(boutText([played(1, 2), board]))).toEqual([
    { rule: "board-disagrees", marked: JSON.stringify(board) },
  ]);
});

test("An unknown rule edition marks its name", () => {
  expect(found(boutText([], { rules: "wheelchair-1999" }))).toEqual([
    { rule: "unknown-edition", marked: '"wheelchair-1999"' },
  ]);
  const spread = JSON.stringify(JSON.parse(boutText([], { rules: "x" })), undefined, 2).replaceAll(
    "\n",
    "\r\n",
  );
  expect(found(spread)).toEqual([{ rule: "unknown-edition", marked: '"x"' }]);
});

test("A later version marks its number", () => {
  expect(found(boutText([], {}, { boutline: 2 }))).toEqual([{ rule: "later-version", marked: "2" }]);
});

test("A review that changed the call without saying what stands is marked, which the schema can't do", () => {
  const review = { kind: "review", at: second(4), by: "left", result: "changed" };
  expect(found(boutText([played(1, 2), review])).map(({ rule }) => rule)).toEqual(["missing"]);
});

test("What VS Code's own JSON support marks is not marked again", () => {
  const mistakes = [
    boutText([{ kind: "noise" }]),
    boutText([{ kind: "note", at: "soon" }]),
    boutText([played(1, 2, { unheard: 1 })]),
    boutText([]).replace('"log"', '"lug"'),
    boutText([]).replace('"log":', '"boutline": 1, "log":'),
    `${boutText([])} }`,
    "",
  ];
  for (const text of mistakes) expect(found(text), text).toEqual([]);
});

test("A finding names its article, and marks the other entries it has to do with", () => {
  const yellow = (at: number) => ({ kind: "card", at: second(at), to: "left", card: "yellow", for: "hair" });
  const text = boutText([yellow(1), played(2, 3), yellow(4)], { rules: "fie-2026" });
  const reading = readBout(text);
  const finding = findingsInText(reading, studyOf(reading)).find(({ rule }) => rule === "second-yellow");
  expect(finding?.message).toMatch(/^[A-Z].*\. \(FIE t\.165.*\)$/);
  expect(text.slice(finding?.offset, (finding?.offset ?? 0) + (finding?.length ?? 0))).toBe(
    JSON.stringify(yellow(4)),
  );
  expect(finding?.related.map(({ offset, length }) => text.slice(offset, offset + length))).toEqual([
    JSON.stringify(yellow(1)),
  ]);
});

test("What only the file's own format asks for names no article", () => {
  const reading = readBout(boutText([phrase(1, undefined)]));
  const [finding] = findingsInText(reading, studyOf(reading));
  expect(finding?.rule).toBe("not-halted");
  expect(finding?.message).toMatch(/^[A-Z][^()]*\.$/);
});
