// R on random inputs: thousands of cases made by reference/reference.R with R 4.2.2 and kept in reference/reference.txt.

import { readFileSync } from "node:fs";
import path from "node:path";
import { expect, test } from "vitest";
import {
  afterOther,
  atLeast,
  clopperPearsonInterval,
  fisherTest,
  holm,
  meanInterval,
  medianInterval,
  poissonInterval,
  rateRatio,
  shareDifference,
  signTestOfCounts,
  upTo,
  wilsonInterval,
} from "../../src/statistics";
import { expectClose } from "./close-to";

const text = readFileSync(path.join(import.meta.dirname, "reference", "reference.txt"), "utf8");
const cases = new Map(
  text
    .split("# ")
    .slice(1)
    .map((list) => {
      const [name = "", ...lines] = list.trim().split("\n");
      return [
        name,
        lines.map((line) => line.split(" ").map((word) => (word === "Inf" ? Infinity : Number(word)))),
      ];
    }),
);

/** Runs the check on every case, each as many numbers as named. */
function each(
  name: string,
  width: number,
  atLeastCases: number,
  check: (...numbers: number[]) => void,
): void {
  const found = cases.get(name) ?? [];
  expect(found.length).toBeGreaterThanOrEqual(atLeastCases);
  for (const numbers of found) {
    expect(numbers).toHaveLength(width);
    check(...numbers);
  }
}

/** Relative; R's own values are kept to twelve digits. Near 0 the difference of two shares is held to 1e-11 of 1. */
const close = (actual: number | null, expected: number, floor = 0) =>
  actual === expected || expectClose(actual ?? NaN, expected, 1e-9, floor);

test("Wilson and Clopper-Pearson limits are those of prop.test and binom.test", () =>
  each("shares", 7, 1000, (x = 0, n = 0, level = 0, wilsonLow = 0, wilsonHigh = 0, low = 0, high = 0) => {
    const wilson = wilsonInterval(x, n, level);
    const exact = clopperPearsonInterval(x, n, level);
    // prop.test leaves rounding of some 1e-17 where the limit is exactly 0.
    close(wilson.low, wilsonLow, 1e-6);
    close(wilson.high, wilsonHigh);
    close(exact.low, low);
    close(exact.high, high);
  }));

test("Fisher's exact test is that of fisher.test", () =>
  each("fisher", 5, 1000, (x1 = 0, n1 = 0, x2 = 0, n2 = 0, p = 0) =>
    close(fisherTest({ count: x1, of: n1 }, { count: x2, of: n2 }), p),
  ));

test("Newcombe's difference follows from the limits of prop.test", () =>
  each("difference", 6, 1000, (x1 = 0, n1 = 0, x2 = 0, n2 = 0, low = 0, high = 0) => {
    const found = shareDifference({ count: x1, of: n1 }, { count: x2, of: n2 });
    close(found.low, low, 0.01);
    close(found.high, high, 0.01);
  }));

test("the ratio of two rates is that of poisson.test, p twice its smaller one-sided one", () =>
  each("rates", 7, 1000, (x1 = 0, x2 = 0, t1 = 0, t2 = 0, low = 0, high = 0, p = 0) => {
    const found = rateRatio({ count: x1, time: t1 }, { count: x2, time: t2 });
    close(found.low, low);
    close(found.high, high);
    close(found.p, p);
  }));

test("limits of a count are those of poisson.test, the sign test is binom.test", () =>
  each("counts", 5, 1000, (x = 0, y = 0, low = 0, high = 0, p = 0) => {
    const found = poissonInterval(x);
    close(found.low, low);
    close(found.high, high);
    close(signTestOfCounts(x, y), p);
  }));

test("how often one kind follows the other is spread as phyper says", () =>
  each("orders", 5, 1000, (x = 0, n1 = 0, n2 = 0, fewer = 0, more = 0) => {
    const found = afterOther(n1, n2);
    close(upTo(found, x), fewer);
    close(atLeast(found, x), more);
  }));

test("limits of a mean are those of t.test, limits of a median stand at the ranks of qbinom", () =>
  each("means", 17, 200, (...numbers) => {
    const values = numbers.slice(0, 12);
    const [low = 0, high = 0, median = 0, below = 0, above = 0] = numbers.slice(12);
    const mean = meanInterval(values);
    close(mean.low, low, 0.1);
    close(mean.high, high, 0.1);
    const middle = medianInterval(values);
    close(middle.value, median);
    close(middle.low, below);
    close(middle.high, above);
  }));

test("Holm's adjustment is that of p.adjust", () =>
  each("holm", 16, 200, (...numbers) =>
    holm(numbers.slice(0, 8)).forEach((adjusted, index) => close(adjusted, numbers[8 + index] ?? NaN)),
  ));
