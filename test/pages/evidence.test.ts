import { expect, test } from "vitest";
import { stretchesOf } from "../../src/pages";
import { at, boutWith } from "./sheets";

const { bout } = boutWith([
  { kind: "phrase", start: "0:00:00.400", halt: at(3), award: "left" },
  { kind: "card", at: at(5), to: "left", card: "yellow" },
  { kind: "phrase", start: at(20), halt: at(22), award: "right" },
  { kind: "stop", at: at(24), until: at(60), for: ["medical"] },
  { kind: "review", at: at(70), by: "left", result: "kept", award: "right" },
  { kind: "phrase", start: at(80) },
  { kind: "nonsense" },
]);

test("a phrase is played from a second before the command to a second after the halt, never from before the start", () => {
  expect(stretchesOf(bout, [2, 0])).toEqual([
    { from: 19_000, to: 23_000 },
    { from: 0, to: 4000 },
  ]);
});

test("a review shows the phrase it belongs to", () => {
  expect(stretchesOf(bout, [4])).toEqual([{ from: 19_000, to: 23_000 }]);
});

test("what has no end of its own is played for a few seconds", () => {
  expect(stretchesOf(bout, [1, 5])).toEqual([
    { from: 4000, to: 10_000 },
    { from: 79_000, to: 85_000 },
  ]);
});

test("a long stop is not sat through", () => {
  expect(stretchesOf(bout, [3])).toEqual([{ from: 23_000, to: 29_000 }]);
});

test("an entry that can't be read, or is not there, is passed over", () => {
  expect(stretchesOf(bout, [6, 99])).toEqual([]);
});
