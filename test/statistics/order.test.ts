// Every order written out and counted, against the formulas.

import { describe, expect, test } from "vitest";
import {
  allOrders,
  atLeast,
  drawnOrders,
  longestRunDistribution,
  meanOf,
  medianInterval,
  middle,
  orderFigures,
  runsDistribution,
  twoSided,
  type Distribution,
  type OrderFigures,
} from "../../src/statistics";
import { expectClose } from "./close-to";
import { longestRunValues, runsValues } from "./published-comparisons";

function everyOrder(first: number, second: number): boolean[][] {
  if (first === 0 && second === 0) return [[]];
  const orders: boolean[][] = [];
  if (first > 0) orders.push(...everyOrder(first - 1, second).map((rest) => [true, ...rest]));
  if (second > 0) orders.push(...everyOrder(first, second - 1).map((rest) => [false, ...rest]));
  return orders;
}

/** What one order shows, counted the slow way from its text. */
function plainly(order: readonly boolean[]): OrderFigures {
  const text = order.map((isFirst) => (isFirst ? "a" : "b")).join("");
  const runs = text.match(/a+|b+/g) ?? [];
  const longest = (letter: string) =>
    Math.max(0, ...runs.filter((run) => run.startsWith(letter)).map((run) => run.length));
  const pairs = (pair: string) => order.filter((_, index) => text.startsWith(pair, index)).length;
  return {
    runs: runs.length,
    longest: [longest("a"), longest("b")],
    afterOther: [pairs("ba"), pairs("ab")],
    afterSame: [pairs("aa"), pairs("bb")],
  };
}

function expectSpread(found: Distribution, values: readonly number[]): void {
  const total = found.probabilities.reduce((sum, probability) => sum + probability, 0);
  expectClose(total, 1, 1e-12);
  for (let value = 0; value <= Math.max(...values) + 1; value++) {
    const share = values.filter((one) => one === value).length / values.length;
    expect(Math.abs((found.probabilities[value - found.from] ?? 0) - share)).toBeLessThan(1e-12);
  }
}

describe("orders of the same events", () => {
  test.each([
    [1, 1],
    [1, 4],
    [3, 1],
    [4, 4],
    [5, 3],
    [2, 7],
    [6, 5],
  ])("of %i and %i: every one written out", (first, second) => {
    const seen = everyOrder(first, second).map(plainly);
    const found = allOrders(first, second);
    expectSpread(
      found.runs,
      seen.map(({ runs }) => runs),
    );
    for (const kind of [0, 1] as const)
      for (const figure of ["longest", "afterOther", "afterSame"] as const)
        expectSpread(
          found[figure][kind],
          seen.map((one) => one[figure][kind]),
        );
  });

  test("figures of one order, in one stretch and in two", () => {
    const order = [true, true, false, true, false, false, false];
    expect(orderFigures([order])).toEqual(plainly(order));
    expect(orderFigures([order.slice(0, 4), order.slice(4)])).toEqual({
      runs: 4,
      longest: [2, 3],
      afterOther: [1, 1],
      afterSame: [1, 2],
    });
  });

  test.each(runsValues)("runs of $first and $second, as published", ({ first, second, from, pmf }) => {
    const found = runsDistribution(first, second);
    expect(found.from).toBe(from);
    expect(found.probabilities).toHaveLength(pmf.length);
    pmf.forEach((expected, index) => expectClose(found.probabilities[index] ?? NaN, expected, 1e-12));
  });

  test.each(longestRunValues)(
    "longest run of $first beside $second: at least $atLeast",
    ({ first, second, atLeast: least, p }) =>
      expectClose(atLeast(longestRunDistribution(first, second), least), p, 1e-12),
  );

  test("for many events inclusion and exclusion says what counting says, to 1e-6", () => {
    // 70 of each are counted, 71 are not; between neighbours nothing may jump.
    const [counted, excluded] = [longestRunDistribution(70, 70), longestRunDistribution(71, 71)];
    for (let longest = 5; longest < 15; longest++)
      expect(Math.abs(atLeast(counted, longest) - atLeast(excluded, longest))).toBeLessThan(0.01);
    const large = longestRunDistribution(1000, 1000);
    expectClose(
      large.probabilities.reduce((sum, probability) => sum + probability, 0),
      1,
      1e-9,
    );
    // Shuffled by the seeded generator, 10,000 times.
    const events = Array.from({ length: 200 }, (_, index) => index % 2 === 0);
    const drawn = drawnOrders([events]).longest[0];
    const formula = longestRunDistribution(100, 100);
    for (let longest = 4; longest < 14; longest++)
      expect(Math.abs(atLeast(drawn, longest) - atLeast(formula, longest))).toBeLessThan(0.02);
  });

  test("drawn orders come near the formulas, and are the same every time", () => {
    const order = [true, false, true, true, false, true, false, false, true, true];
    const [drawn, all] = [drawnOrders([order]), allOrders(6, 4)];
    expect(Math.abs(meanOf(drawn.runs) - meanOf(all.runs))).toBeLessThan(0.05);
    expect(Math.abs(meanOf(drawn.afterOther[0]) - meanOf(all.afterOther[0]))).toBeLessThan(0.03);
    for (let runs = 2; runs <= 9; runs++)
      expect(Math.abs(atLeast(drawn.runs, runs) - atLeast(all.runs, runs))).toBeLessThan(0.02);
    expect(middle(all.runs)).toEqual({ low: 3, high: 8 });
    expect(drawnOrders([order])).toEqual(drawn);
  });

  test("a test of runs errs in at most 5 of 100 orders, whichever way they lean", () => {
    for (const [first, second] of [
      [6, 5],
      [8, 4],
    ] as const) {
      const found = runsDistribution(first, second);
      const bold = everyOrder(first, second).filter((order) => twoSided(found, plainly(order).runs) < 0.05);
      expect(bold.length / everyOrder(first, second).length).toBeLessThanOrEqual(0.05);
    }
  });
});

describe("the middle of a few values", () => {
  test("has limits from six values on", () => {
    expect(medianInterval([5])).toEqual({ value: 5, low: null, high: null });
    expect(medianInterval([4, 1, 3, 2, 5]).low).toBeNull();
    // P(all six on one side of the median) = 2 / 64 = 3.1 %.
    expect(medianInterval([6, 4, 1, 3, 2, 5])).toEqual({ value: 3.5, low: 1, high: 6 });
  });
});
