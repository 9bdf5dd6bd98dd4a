import fc from "fast-check";
import { describe, expect, test } from "vitest";
import {
  clopperPearsonInterval,
  clopperPearsonRate,
  type Interval,
  wilsonInterval,
  wilsonRate,
} from "../../src/statistics";
import { expectClose } from "./close-to";
import { binomialValues, newcombe } from "./published";

const share = fc
  .integer({ min: 1, max: 5000 })
  .chain((of) => fc.record({ count: fc.integer({ min: 0, max: of }), of: fc.constant(of) }));
const level = fc.double({ min: 0.01, max: 0.9999, noNaN: true });
const methods = [
  ["Wilson", wilsonInterval],
  ["Clopper-Pearson", clopperPearsonInterval],
] as const;

describe("limits of a share agree with", () => {
  test.each(newcombe)("Newcombe 1998, Table I: $x of $n", ({ x, n, wilson, exact }) => {
    expectPublished(wilsonInterval(x, n), wilson, 4);
    expectPublished(clopperPearsonInterval(x, n), exact, 4);
  });

  test.each(binomialValues)(
    "R 4.2.2: $x of $n at level $level",
    ({ x, n, level, wilson, clopperPearson }) => {
      expectLimits(wilsonInterval(x, n, level), wilson);
      expectLimits(clopperPearsonInterval(x, n, level), clopperPearson);
    },
  );

  test("R 3.6.2, as in the tests of scipy 1.10.1", () => {
    expectPublished(wilsonInterval(3, 10), [0.1077913, 0.6032219], 7);
    expectLimits(clopperPearsonInterval(20, 100), [0.1266555521019559, 0.2918426890886281]);
  });

  test("NIST/SEMATECH e-Handbook 7.2.4.1: lower 95 % limit of 26 of 200, and 90 % limits of 4 of 20", () => {
    expectPublished({ low: wilsonInterval(26, 200, 0.9).low, high: 0 }, [0.09577, 0], 5);
    // The handbook prints 0.401029 for the upper limit; R, to more digits, 0.401028117: its sixth decimal is one off.
    const { low, high } = clopperPearsonInterval(4, 20, 0.9);
    expect(Math.abs(low - 0.071354)).toBeLessThan(5e-7);
    expect(Math.abs(high - 0.401029)).toBeLessThan(1e-6);
  });
});

describe.each(methods)("%s limits", (_, interval) => {
  test("lie between 0 and 1 on either side of the share, and touch the ends only there", () => {
    fc.assert(
      fc.property(share, level, ({ count, of }, level) => {
        const { low, high } = interval(count, of, level);
        expect(low).toBeGreaterThanOrEqual(0);
        expect(high).toBeLessThanOrEqual(1);
        expect(low).toBeLessThanOrEqual(count / of);
        expect(high).toBeGreaterThanOrEqual(count / of);
        expect(low === 0).toBe(count === 0);
        expect(high === 1).toBe(count === of);
      }),
    );
  });

  test("are wider at a higher level", () => {
    fc.assert(
      fc.property(share, fc.double({ min: 0.01, max: 0.98, noNaN: true }), ({ count, of }, lower) => {
        const narrow = interval(count, of, lower);
        const wide = interval(count, of, lower + 0.01);
        expect(wide.low).toBeLessThanOrEqual(narrow.low);
        expect(wide.high).toBeGreaterThanOrEqual(narrow.high);
        expect(wide.high - wide.low).toBeGreaterThan(narrow.high - narrow.low);
      }),
    );
  });

  test("change places when what was counted is what was not", () => {
    fc.assert(
      fc.property(share, ({ count, of }) => {
        const { low, high } = interval(count, of);
        const { low: otherLow, high: otherHigh } = interval(of - count, of);
        expectClose(low, 1 - otherHigh, 1e-12, 1);
        expectClose(high, 1 - otherLow, 1e-12, 1);
      }),
    );
  });

  test.each([
    [-1, 5],
    [6, 5],
    [0, 0],
    [1.5, 5],
    [1, 5.5],
    [NaN, 5],
    [1, NaN],
    [1, Infinity],
  ])("refuse %s of %s", (count, of) => {
    expect(() => interval(count, of)).toThrow(RangeError);
  });

  test.each([0, 1, -0.5, 95, NaN])("refuse the level %s", (level) => {
    expect(() => interval(1, 5, level)).toThrow(RangeError);
  });
});

describe("a rate", () => {
  test("carries what was counted, its share and its limits", () => {
    expect(wilsonRate(3, 12)).toEqual({ count: 3, of: 12, value: 0.25, ...wilsonInterval(3, 12) });
    expect(clopperPearsonRate(3, 12)).toEqual({
      count: 3,
      of: 12,
      value: 0.25,
      ...clopperPearsonInterval(3, 12),
    });
  });

  test("says nothing where there was nothing to count", () => {
    const nothing = { count: 0, of: 0, value: null, low: null, high: null };
    expect(wilsonRate(0, 0)).toEqual(nothing);
    expect(clopperPearsonRate(0, 0)).toEqual(nothing);
    expect(() => wilsonRate(1, 0)).toThrow(RangeError);
    expect(() => wilsonRate(0, 0, 2)).toThrow(RangeError);
  });
});

function expectLimits({ low, high }: Interval, expected: readonly [number, number]): void {
  expectClose(low, expected[0]);
  expectClose(high, expected[1]);
}

/** Half a unit of the last digit printed. */
function expectPublished({ low, high }: Interval, expected: readonly [number, number], digits: number): void {
  expect(Math.abs(low - expected[0])).toBeLessThanOrEqual(0.5000001 * 10 ** -digits);
  expect(Math.abs(high - expected[1])).toBeLessThanOrEqual(0.5000001 * 10 ** -digits);
}
