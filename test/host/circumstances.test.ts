import { expect, test } from "vitest";
import type { Milliseconds } from "../../src/bout/time";
import { circumstancesAt } from "../../src/host/circumstances";
import { boutText, phrase, second, studied } from "./bouts";

const { study } = studied(
  boutText([
    phrase(1, 3, { award: "left" }),
    { kind: "card", at: second(4), to: "right", card: "yellow" },
    { kind: "period", at: second(10), number: 2 },
  ]),
);
const at = (seconds: number) => circumstancesAt(study, (seconds * 1000) as Milliseconds);

test("A key sees the score, the period and the next card as they are at the frame on screen", () => {
  expect(at(0)).toMatchObject({ score: [0, 0], period: 1 });
  expect(at(1).score).toEqual([1, 0]);
  expect(at(3.999).nextCard("right")).toBe("yellow");
  expect(at(4).nextCard("right")).toBe("red");
  expect(at(4).nextCard("left")).toBe("yellow");
  expect(at(60)).toMatchObject({ score: [1, 0], period: 2 });
});

test("A repeated card key goes through the colours, with P-cards only where the format knows them", () => {
  expect(at(0).cards).toEqual(["yellow", "red", "black", "P-red", "P-black"]);
  const pool = studied(boutText([], { format: "pool" })).study;
  expect(circumstancesAt(pool, 0 as Milliseconds).cards).toEqual(["yellow", "red", "black"]);
});
