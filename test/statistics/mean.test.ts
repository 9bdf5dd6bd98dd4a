import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { meanInterval, tQuantile } from "../../src/statistics";
import { certifiedSets } from "./certified-sets";
import { expectClose } from "./close-to";
import { tIntervals, tQuantiles } from "./published";

test.each(tQuantiles)(
  "t quantiles with %s degrees of freedom agree with R 4.2.2",
  (degrees, p95, p975, p995) => {
    expectClose(tQuantile(0.95, degrees), p95);
    expectClose(tQuantile(0.975, degrees), p975);
    expectClose(tQuantile(0.995, degrees), p995);
    expectClose(tQuantile(0.025, degrees), -p975);
  },
);

test.each(tIntervals)(
  "t interval agrees with R 4.2.2 t.test: $name, mean $mean",
  ({ values, mean, sd, ci95 }) => {
    const found = meanInterval(values);
    expectClose(found.value, mean, 1e-12, 1);
    expectClose(found.standardError, sd / Math.sqrt(values.length));
    expectClose(found.low, ci95[0], 1e-11, 1);
    expectClose(found.high, ci95[1], 1e-11, 1);
  },
);

test("t limits agree with NIST/SEMATECH e-Handbook 1.3.5.2, ZARR13: mean 9.26146, deviation 0.022789, n 195", () => {
  const half = (tQuantile(0.975, 194) * 0.022789) / Math.sqrt(195);
  expect(9.26146 - half).toBeCloseTo(9.258242, 5);
  expect(9.26146 + half).toBeCloseTo(9.264679, 5);
  // R 4.2.2 from the same summary
  expectClose(9.26146 - half, 9.25824134974341);
  expectClose(9.26146 + half, 9.26467865025659);
});

// Values near 10^7 that differ in their first decimal hold that decimal to 1e-9, which bounds the deviation's accuracy.
test.each(certifiedSets)("mean and deviation agree with NIST StRD: $name", ({ values, mean, sd }) => {
  const found = meanInterval(values);
  expectClose(found.value, mean, 1e-14 * Math.sqrt(values.length));
  expectClose(found.standardError * Math.sqrt(values.length), sd, 2e-16 * (mean / sd) + 1e-13);
});

describe("a t interval", () => {
  const values = fc.array(fc.double({ min: -1e6, max: 1e6, noNaN: true }), { minLength: 2, maxLength: 40 });

  test("holds its mean in the middle and is wider at a higher level", () => {
    fc.assert(
      fc.property(values, (values) => {
        const { value, low, high, standardError } = meanInterval(values, 0.9);
        const wide = meanInterval(values, 0.95);
        expectClose((low + high) / 2, value, 1e-9, 1);
        expect(wide.low).toBeLessThanOrEqual(low);
        expect(wide.high).toBeGreaterThanOrEqual(high);
        if (standardError > 1e-6) expect(wide.high - wide.low).toBeGreaterThan(high - low);
      }),
    );
  });

  test("moves with the values", () => {
    fc.assert(
      fc.property(values, fc.integer({ min: -1000, max: 1000 }), (values, shift) => {
        const moved = meanInterval(values.map((value) => value + shift));
        expectClose(moved.low, meanInterval(values).low + shift, 1e-8, 1);
      }),
    );
  });

  test.each([[[]], [[1]], [[1, NaN]], [[1, Infinity]]])("refuses %j", (values) => {
    expect(() => meanInterval(values)).toThrow(RangeError);
  });

  test("refuses a probability or degrees of freedom out of range", () => {
    for (const probability of [0, 1, -1, NaN]) expect(() => tQuantile(probability, 5)).toThrow(RangeError);
    for (const degrees of [0, -1, NaN, Infinity]) expect(() => tQuantile(0.5, degrees)).toThrow(RangeError);
    expect(() => meanInterval([1, 2], 0)).toThrow(RangeError);
  });
});
