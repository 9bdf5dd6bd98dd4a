import fc from "fast-check";
import { expect, test } from "vitest";
import { signTest, signTestOfCounts } from "../../src/statistics";
import { expectClose } from "./close-to";
import { signTests } from "./published";

test.each(signTests)(
  "sign test of $n signs, $smaller of the rarer one, agrees with R 4.2.2",
  ({ n, smaller, p }) => {
    expectClose(signTestOfCounts(smaller, n - smaller), p, 1e-12);
    expectClose(signTestOfCounts(n - smaller, smaller), p, 1e-12);
  },
);

test("p is the sum of the binomial terms worked out in whole numbers", () => {
  fc.assert(
    fc.property(fc.nat({ max: 60 }), fc.nat({ max: 60 }), (positive, negative) => {
      const signs = BigInt(positive + negative);
      let term = 1n;
      let tail = 0n;
      for (let k = 0n; k <= BigInt(Math.min(positive, negative)); k++) {
        tail += term;
        term = (term * (signs - k)) / (k + 1n);
      }
      const exact = Math.min(1, Number(2n * tail) / 2 ** Number(signs));
      expectClose(signTestOfCounts(positive, negative), exact, 1e-11);
    }),
  );
});

test("exact zeros are left out", () => {
  expect(signTest([0.2, -0, 0, 3, 1e-300, -4])).toEqual({ positive: 3, negative: 1, p: 0.625 });
});

test("without any sign nothing is unusual", () => {
  expect(signTest([])).toEqual({ positive: 0, negative: 0, p: 1 });
  expect(signTest([0, 0]).p).toBe(1);
});

test("values that are no number and counts that are none are refused", () => {
  expect(() => signTest([1, NaN])).toThrow(RangeError);
  for (const count of [-1, 0.5, NaN]) {
    expect(() => signTestOfCounts(count, 3)).toThrow(RangeError);
    expect(() => signTestOfCounts(3, count)).toThrow(RangeError);
  }
});
