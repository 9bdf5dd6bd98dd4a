import { describe, expect, test } from "vitest";
import { itemAt, layoutLine, timeAt, xOf, type Window } from "../../src/viewer/line/layout";
import { head, item, phrase } from "./scenes";

const window: Window = { from: 0, to: 100_000, width: 1000 };
const measure = (words: string) => words.length * 6;
const lay = (items: Parameters<typeof layoutLine>[0], of = window, mirrored = false) =>
  layoutLine(items, { mirrored, drift: [] }, of, measure);

describe("the phrase line", () => {
  test("puts the left fencer's touches above the line and the right one's below", () => {
    const items = [
      phrase(0, 10_000, 12_000, { side: "left", label: "1" }),
      phrase(1, 20_000, 23_000, { side: "right", label: "1" }),
      phrase(2, 30_000, 31_000),
    ];
    const { blocks } = lay(items);
    expect(blocks.map(({ half, state }) => `${half} ${state}`)).toEqual([
      "above touch",
      "below touch",
      "across none",
    ]);
    expect(blocks[0]).toMatchObject({ x: 100, width: 20, label: "1" });
    expect(lay(items, window, true).blocks.map(({ half }) => half)).toEqual(["below", "above", "across"]);
  });

  test("a phrase still open or not called yet is no touch", () => {
    const { blocks } = lay([
      phrase(0, 10_000, 12_000, { state: "waiting", side: "left" }),
      phrase(1, 20_000, null, { state: "open" }),
    ]);
    expect(blocks.map(({ state }) => state)).toEqual(["waiting", "open"]);
    expect(blocks[1]?.width).toBeGreaterThanOrEqual(3);
  });

  test("words that would overlap are left out, never cut", () => {
    const cards = [0, 1, 2].map((index) =>
      item(index, 20_000 + index * 1500, { kind: "card", side: "left", label: "yellow" }),
    );
    expect(lay(cards).signs.map(({ words }) => words)).toEqual(["yellow", "", ""]);
    const closer = lay(cards, { from: 15_000, to: 30_000, width: 1000 });
    expect(closer.signs.map(({ words }) => words)).toEqual(["yellow", "yellow", "yellow"]);
  });

  test("words of neither side take the row that is free", () => {
    const stops = [0, 1].map((index) =>
      item(index, 50_000 + index * 2000, { kind: "stop", label: "re-centre" }),
    );
    expect(lay(stops).signs.map(({ words, wordsAbove }) => `${words} ${wordsAbove}`)).toEqual([
      "re-centre true",
      "re-centre false",
    ]);
  });

  test("words at the edge stay inside", () => {
    const [sign] = lay([item(0, 99_900, { kind: "end", label: "touches" })]).signs;
    expect((sign?.wordsX ?? 0) + measure("touches")).toBeLessThanOrEqual(1000);
  });

  test("numbers of touches don't run into each other", () => {
    const many = Array.from({ length: 400 }, (_, index) =>
      phrase(index, index * 250, index * 250 + 100, { side: "left", label: String(index + 1) }),
    );
    const shown = lay(many).blocks.filter(({ label }) => label !== "");
    expect(shown.length).toBeGreaterThan(10);
    shown.slice(1).forEach((block, index) => {
      const before = shown[index];
      expect(block.x - (before?.x ?? 0)).toBeGreaterThan(
        measure(before?.label ?? "") / 2 + measure(block.label) / 2,
      );
    });
  });

  test("drift is broken where the platforms were set back", () => {
    const { drift } = layoutLine(
      [],
      {
        mirrored: false,
        drift: [
          { at: 0, along: 0, broken: true },
          { at: 10_000, along: 0.1, broken: false },
          { at: 20_000, along: 0, broken: true },
        ],
      },
      window,
      measure,
    );
    expect(drift.map((line) => line.length)).toEqual([2, 1]);
  });

  test("ticks of time keep apart at any zoom", () => {
    for (const to of [5000, 60_000, 3_600_000, 4 * 3_600_000]) {
      const { ticks } = lay([], { from: 0, to, width: 800 });
      expect(ticks.length).toBeGreaterThan(1);
      expect((ticks[1]?.x ?? 0) - (ticks[0]?.x ?? 0)).toBeGreaterThanOrEqual(70);
    }
    expect(lay([], { from: 0, to: 4 * 3_600_000, width: 800 }).ticks[1]?.words).toMatch(/^(30:00|1:00:00)$/);
  });

  test("a press finds the entry under it, the fencer's own half first", () => {
    const layout = lay([
      phrase(0, 10_000, 12_000, { side: "left" }),
      item(1, 12_200, { kind: "card", side: "right", label: "yellow" }),
    ]);
    expect(itemAt(layout, 110, true)?.index).toBe(0);
    expect(itemAt(layout, 122, false)?.index).toBe(1);
    expect(itemAt(layout, 500, true)).toBeUndefined();
  });

  test("time and place turn into each other", () => {
    const part: Window = { from: 30_000, to: 40_000, width: 500 };
    expect(timeAt(part, xOf(part, 34_567))).toBeCloseTo(34_567, 6);
  });

  test("two thousand phrases are laid out fast enough to zoom with", () => {
    const many = Array.from({ length: 2000 }, (_, index) =>
      phrase(index, index * 6000, index * 6000 + 3000, {
        side: index % 2 === 0 ? "left" : "right",
        label: "12",
      }),
    );
    const start = performance.now();
    layoutLine(many, head, { from: 0, to: 12_000_000, width: 1200 }, measure);
    expect(performance.now() - start).toBeLessThan(100);
  });
});
