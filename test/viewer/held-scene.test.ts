import { describe, expect, test } from "vitest";
import {
  itemInHand,
  neighbour,
  nextScene,
  nextWaiting,
  phraseInHand,
  sameItem,
  standingAt,
  type HeldScene,
} from "../../src/viewer/held-scene";
import type { Scene } from "../../src/messages/scene";
import { head, item, phrase, standing } from "./scenes";

const scene = (
  version: number,
  base: number | null,
  start: number,
  remove: number,
  ...add: Scene["splice"]["add"]
) => ({ type: "scene", version, base, head, splice: { start, remove, add } }) satisfies Scene;
const held: HeldScene = { version: 4, head, items: [item(0, 100), item(1, 200), item(2, 300)] };

describe("the scene held", () => {
  test("a whole scene replaces whatever is held", () => {
    expect(nextScene(held, scene(9, null, 0, 0, item(0, 5)))?.items).toEqual([item(0, 5)]);
  });

  test("a splice changes the items of the version it builds on", () => {
    const next = nextScene(held, scene(5, 4, 1, 1, item(1, 210), item(2, 250)));
    expect(next?.version).toBe(5);
    expect(next?.items.map(({ at }) => at)).toEqual([100, 210, 250, 300]);
    expect(held.items).toHaveLength(3);
  });

  test("a splice of another version, or beyond the items, means the viewer lost track", () => {
    expect(nextScene(held, scene(6, 5, 0, 0))).toBeUndefined();
    expect(nextScene(undefined, scene(6, 5, 0, 0))).toBeUndefined();
    expect(nextScene(held, scene(5, 4, 2, 5))).toBeUndefined();
  });
});

describe("the entry in hand", () => {
  const items = [
    phrase(0, 1000, 2000),
    item(1, 2500, { kind: "card" }),
    phrase(2, 4000, null, { state: "open" }),
  ];

  test("is the last one not later than the frame on screen", () => {
    expect(itemInHand(items, 999)).toBeUndefined();
    expect(itemInHand(items, 1000)?.index).toBe(0);
    expect(itemInHand(items, 3999)?.index).toBe(1);
    expect(itemInHand(items, 4000)?.index).toBe(2);
  });

  test("the phrase the keys speak of skips cards and stops", () => {
    expect(phraseInHand(items, 3000)?.index).toBe(0);
  });

  test("the entries before and after are found by time, past entries at the same frame", () => {
    expect(neighbour(items, 2500, -1)).toBe(1000);
    expect(neighbour(items, 2500, 1)).toBe(4000);
    expect(neighbour(items, 4000, 1)).toBeUndefined();
  });

  test("after the last call waiting comes the first", () => {
    const waiting = [phrase(0, 1000, 2000, { state: "waiting" }), phrase(1, 3000, 4000)];
    expect(nextWaiting(waiting, 3000)?.at).toBe(1000);
    expect(nextWaiting([phrase(1, 3000, 4000)], 0)).toBeUndefined();
  });

  test("the ledger line shows the state after it, or before the bout", () => {
    const one = phrase(0, 1000, 2000, { after: { ...standing, score: [1, 0] } });
    expect(standingAt({ version: 1, head, items: [one] }, 500).score).toEqual([0, 0]);
    expect(standingAt({ version: 1, head, items: [one] }, 1500).score).toEqual([1, 0]);
  });

  test("an entry being written is found again after another was put in before it", () => {
    const writing = item(1, 2500, { kind: "note" });
    const after = [item(0, 100, { kind: "card" }), phrase(1, 1000, 2000), item(2, 2500, { kind: "note" })];
    expect(sameItem(after, writing)?.index).toBe(2);
  });
});
