import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { perMinute, poissonInterval, rateInterval } from "../../src/statistics";
import { expectClose } from "./close-to";
import { garwoodCounts, garwoodRates } from "./published";

describe("limits of a count agree with", () => {
  test.each(garwoodCounts)("R 4.2.2 poisson.test: $k", ({ k, ci90, ci95, ci99 }) => {
    for (const [level, expected] of [
      [0.9, ci90],
      [0.95, ci95],
      [0.99, ci99],
    ] as const) {
      const { low, high } = poissonInterval(k, level);
      expectClose(low, expected[0]);
      expectClose(high, expected[1]);
    }
  });

  test.each(garwoodRates)("R 4.2.2 poisson.test: $k events in $T", ({ k, T, rate, ci95 }) => {
    const { low, high } = rateInterval(k, T);
    expectClose(low, ci95[0]);
    expectClose(high, ci95[1]);
    expectClose(k / T, rate);
  });

  test.each([
    [950, 890.5425120740684, 1012.3834398441797],
    [1000, 938.9730184076952, 1063.952136016302],
    [3000, 2893.5986209846633, 3109.313530471967],
    [20000, 19723.767600607054, 20279.133627926407],
  ])("SciPy 1.17.1, stats.chi2.ppf, for a season's %i touches", (count, low, high) => {
    const found = poissonInterval(count);
    expectClose(found.low, low);
    expectClose(found.high, high);
  });

  test("SciPy 1.17.1, stats.chi2.ppf, for 1500 touches at level 0.5", () => {
    expectClose(poissonInterval(1500, 0.5).low, 1473.6986127969005);
    expectClose(poissonInterval(1500, 0.5).high, 1526.946738785598);
  });

  // The calculator page prints two decimals cut or rounded by a last unit, so one unit of the last digit is allowed.
  test.each([
    [0.9, 17.38, 34.92],
    [0.95, 16.18, 36.9],
    [0.99, 14.0, 41.0],
  ])("GraphPad QuickCalcs: 25 events at level %s", (level, low, high) => {
    const found = poissonInterval(25, level);
    expect(Math.abs(found.low - low)).toBeLessThan(0.01);
    expect(Math.abs(found.high - high)).toBeLessThan(0.01);
  });

  test("the documentation of R's epitools: no event, upper limit 3.689; 3 and 10 events", () => {
    expect(poissonInterval(0)).toEqual({ low: 0, high: expect.closeTo(3.689, 3) as number });
    expect(poissonInterval(3).low).toBeCloseTo(0.619, 3);
    expect(poissonInterval(3).high).toBeCloseTo(8.767, 3);
    expect(poissonInterval(10).low).toBeCloseTo(4.795, 3);
    expect(poissonInterval(10).high).toBeCloseTo(18.39, 2);
  });
});

describe("limits of a count", () => {
  test("lie on either side of it, and further out at a higher level", () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 0, max: 3000 }),
        fc.double({ min: 0.01, max: 0.98, noNaN: true }),
        (count, level) => {
          const { low, high } = poissonInterval(count, level);
          const wide = poissonInterval(count, level + 0.01);
          expect(low === 0).toBe(count === 0);
          expect(wide.low).toBeLessThanOrEqual(low);
          expect(wide.high).toBeGreaterThan(high);
          const { low: usualLow, high: usualHigh } = poissonInterval(count);
          expect(usualLow).toBeLessThanOrEqual(count);
          expect(usualHigh).toBeGreaterThan(count);
        },
      ),
    );
  });

  test.each([-1, 0.5, NaN, Infinity])("refuse %s events", (count) => {
    expect(() => poissonInterval(count)).toThrow(RangeError);
    expect(() => perMinute(count, 0)).toThrow(RangeError);
  });

  test.each([0, -1, NaN, Infinity])("refuse an exposure of %s", (exposure) => {
    expect(() => rateInterval(1, exposure)).toThrow(RangeError);
  });

  test("refuse a level that is not between 0 and 1", () => {
    expect(() => poissonInterval(1, 1)).toThrow(RangeError);
    expect(() => perMinute(1, 0, 1)).toThrow(RangeError);
  });
});

test("a count a minute carries its minutes, and says nothing where no time passed", () => {
  expect(perMinute(11, 4)).toEqual({ count: 11, minutes: 4, value: 2.75, ...rateInterval(11, 4) });
  expect(perMinute(2, 0)).toEqual({ count: 2, minutes: 0, value: null, low: null, high: null });
  expect(() => perMinute(2, -1)).toThrow(RangeError);
});
