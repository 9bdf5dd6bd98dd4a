import { expect, test } from "vitest";
import { scoreMarks } from "../../src/host/running-score";
import { boutText, phrase, second, studied } from "./bouts";

function marked(text: string, from = 0, to = text.length): string[] {
  const { ledger } = studied(text).study;
  return scoreMarks(ledger, text, from, to).map(
    ({ offset, score }) => `${text.slice(offset - 8, offset)} ${score}`,
  );
}

const log = [
  phrase(1, 2, { award: "left", target: "chest" }),
  phrase(3, 4, { award: "none" }),
  { kind: "card", at: second(5), to: "left", card: "red", for: "turning the back" },
  { kind: "card", at: second(6), to: "left", card: "yellow" },
  phrase(7, 8, { award: "right" }),
  { kind: "review", at: second(9), by: "left", result: "changed", award: "left" },
  { kind: "correction", at: second(10), score: [3, 3] },
];

test("The score stands behind each touch, a red card's and a review's among them", () => {
  expect(marked(boutText(log))).toEqual(['":"left" 1:0', 'd":"red" 1:1', ':"right" 1:2', '":"left" 2:1']);
});

test("Only what is asked for is worked out", () => {
  const text = boutText(log);
  const at = text.indexOf('"award":"right"');
  expect(marked(text, at, at + 15)).toEqual([':"right" 1:2']);
  expect(marked(text, at, at + 5)).toEqual([]);
});

test("A touch after the end has no score behind it, for it does not count", () => {
  expect(
    marked(boutText([{ kind: "end", at: second(1), by: "time" }, phrase(2, 3, { award: "left" })])),
  ).toEqual([]);
});

test("Of an award that stands twice the one that counts is marked", () => {
  const text = boutText([phrase(1, 2, { award: "left" })]).replace('"award":', '"award":"right","award":');
  expect(marked(text)).toEqual(['":"left" 1:0']);
});
