import { describe, expect, test } from "vitest";
import {
  fisherTest,
  holm,
  normalHalfWidth,
  cohensKappa,
  pairedDifference,
  rateRatio,
  shareDifference,
  signTestOfCounts,
} from "../../src/statistics";
import { expectClose } from "./close-to";
import * as published from "./published-comparisons";

const share = ([count, of]: readonly [number, number]) => ({ count, of });
const events = ([count, time]: readonly [number, number]) => ({ count, time });
const pairsOf = ([both, first, second, neither]: readonly [number, number, number, number]) => ({
  both,
  first,
  second,
  neither,
});
/** Half a unit of the last digit printed. */
const printed = (actual: number, expected: number, digits: number) =>
  expect(Math.abs(actual - expected)).toBeLessThanOrEqual(0.5000001 * 10 ** -digits);
const equal = (actual: number, expected: number, floor = 0) => {
  if (actual !== expected) expectClose(actual, expected, 1e-11, floor);
};

describe("the difference of two shares", () => {
  test.each(published.newcombeDifferences)(
    "is that of Newcombe 1998 and Fagerland 2015: $first with $second",
    ({ first, second, low, high, digits }) => {
      const found = shareDifference(share(first), share(second));
      printed(found.low, low, digits[0]);
      printed(found.high, high, digits[1]);
    },
  );

  test.each(published.differenceValues)("is that of R: $first with $second", ({ first, second, limits }) => {
    const found = shareDifference(share(first), share(second));
    equal(found.low, limits[0], 0.1);
    equal(found.high, limits[1], 0.1);
  });

  test("of the same cases is that of Newcombe 1998 and of R", () => {
    for (const { pairs, low, high } of published.pairedPublished) {
      const found = pairedDifference(pairsOf(pairs));
      printed(found.low, low, 4);
      printed(found.high, high, 4);
    }
    for (const { pairs, limits } of published.pairedValues) {
      const found = pairedDifference(pairsOf(pairs));
      equal(found.low, limits[0], 0.1);
      equal(found.high, limits[1], 0.1);
    }
  });

  test("turns round when the two change places", () => {
    const there = pairedDifference(pairsOf([4, 3, 1, 2]));
    const back = pairedDifference(pairsOf([4, 1, 3, 2]));
    equal(back.low, -there.high);
    equal(back.high, -there.low);
  });
});

describe("exact tests", () => {
  test.each([
    ...published.fisherValues,
    ...published.differenceValues.map((one) => ({ ...one, p: one.fisher })),
  ])("Fisher's, as in R: $first with $second", ({ first, second, p }) =>
    equal(fisherTest(share(first), share(second)), p),
  );

  test.each(published.mcnemarValues)("McNemar's exact test is a sign test: $b with $c", ({ b, c, p }) =>
    equal(signTestOfCounts(b, c), p),
  );

  test.each(published.ratioValues)(
    "two rates, as in R: $first with $second",
    ({ first, second, value, limits, p }) => {
      const found = rateRatio(events(first), events(second));
      equal(found.value, value);
      equal(found.low, limits[0]);
      equal(found.high, limits[1]);
      equal(found.p, p);
    },
  );

  test("two rates of Gu, Ng, Tang and Schucany 2008", () => {
    const { first, second, limits } = published.guRatio;
    const found = rateRatio(events(first), events(second));
    equal(found.low, limits[0]);
    equal(found.high, limits[1]);
  });

  test("refuse more hits than tries, and no event at all", () => {
    expect(() => fisherTest({ count: 3, of: 2 }, { count: 0, of: 1 })).toThrow(RangeError);
    expect(() => rateRatio({ count: 0, time: 1 }, { count: 0, time: 1 })).toThrow(RangeError);
    expect(() => rateRatio({ count: 1, time: 0 }, { count: 0, time: 1 })).toThrow(RangeError);
  });

  test.each(published.holmValues)("Holm's adjustment of $p", ({ p, adjusted }) =>
    holm(p).forEach((one, index) => equal(one, adjusted[index] ?? NaN)),
  );
});

describe("Cohen's kappa", () => {
  test.each(published.kappaValues)("and its standard error: $kappa", ({ table, kappa, error }) => {
    const found = cohensKappa(table);
    equal(found.value ?? NaN, kappa);
    equal(((found.high ?? NaN) - (found.low ?? NaN)) / 2 / normalHalfWidth(), error);
  });

  test("can't be said without cases, or where one word was used throughout", () => {
    expect(cohensKappa([]).value).toBeNull();
    expect(
      cohensKappa([
        [0, 0],
        [0, 0],
      ]).value,
    ).toBeNull();
    expect(cohensKappa([[9]]).value).toBeNull();
    expect(
      cohensKappa([
        [9, 0],
        [0, 0],
      ]).value,
    ).toBeNull();
  });

  test("is 0 without limits where one of the two used one word throughout, whatever the other said", () => {
    // Chance agreement is then the agreement seen (Cohen 1960, the definition), so the cases say nothing of kappa.
    for (const table of [
      [
        [7, 2],
        [0, 0],
      ],
      [
        [0, 3],
        [0, 6],
      ],
      [
        [0, 5],
        [0, 0],
      ],
    ])
      expect(cohensKappa(table)).toMatchObject({ value: 0, low: null, high: null });
  });

  test("is not certain of itself though two agree in all of three cases", () => {
    const { value, low, high } = cohensKappa([
      [2, 0],
      [0, 1],
    ]);
    expect([value, high]).toEqual([1, 1]);
    // Clopper-Pearson 0.025^(1/3) = 0.29240; chance 5/9.
    expectClose(low ?? NaN, (0.025 ** (1 / 3) - 5 / 9) / (4 / 9), 1e-9);
  });
});
