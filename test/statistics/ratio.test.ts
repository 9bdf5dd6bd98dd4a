import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { meanInterval, ratioInterval, type RatioPart, seededRandom } from "../../src/statistics";
import { expectClose } from "./close-to";

const part = fc.record({
  amount: fc.double({ min: -10, max: 10, noNaN: true }),
  exposure: fc.integer({ min: 1, max: 9 }),
});
const parts = fc.array(part, { minLength: 2, maxLength: 30 });

describe("a ratio of totals", () => {
  test("of three stretches, worked by hand", () => {
    // R = 6 / 6 = 1, residuals 0, 1, -1, t(2) at 0.975 = 4.30265272974946: half-width t · sqrt(3 / 2 · 2) / 6.
    const found = ratioInterval([
      { amount: 1, exposure: 1 },
      { amount: 3, exposure: 2 },
      { amount: 2, exposure: 3 },
    ]);
    expectClose(found.value, 1, 1e-14);
    expectClose(found.high - 1, (4.30265272974946 * Math.sqrt(3)) / 6, 1e-12);
    expectClose(1 - found.low, (4.30265272974946 * Math.sqrt(3)) / 6, 1e-12);
  });

  test("is the mean with its t interval where every stretch has the same length", () => {
    fc.assert(
      fc.property(fc.array(part, { minLength: 2, maxLength: 30 }), (parts) => {
        const found = ratioInterval(parts.map(({ amount }) => ({ amount: amount * 4, exposure: 4 })));
        const mean = meanInterval(parts.map(({ amount }) => amount));
        expectClose(found.value, mean.value, 1e-12, 10);
        expectClose(found.low, mean.low, 1e-12, 100);
        expectClose(found.high, mean.high, 1e-12, 100);
      }),
    );
  });

  test("turns round with its amounts and scales with its units", () => {
    fc.assert(
      fc.property(parts, (parts) => {
        const { value, low, high } = ratioInterval(parts);
        const turned = ratioInterval(
          parts.map(({ amount, exposure }) => ({ amount: -3 * amount, exposure })),
        );
        expectClose(turned.value, -3 * value, 1e-12, 10);
        expectClose(turned.low, -3 * high, 1e-11, 100);
        expectClose(turned.high, -3 * low, 1e-11, 100);
      }),
    );
  });

  test("is held by its limits about 95 times in 100", () => {
    const random = seededRandom(11);
    const numbers = new Uint32Array(2 * 20);
    let held = 0;
    const bouts = 4000;
    for (let bout = 0; bout < bouts; bout++) {
      random(numbers);
      const parts: RatioPart[] = [];
      for (let step = 0; step < 20; step++) {
        const exposure = 1 + ((numbers[2 * step] ?? 0) % 4);
        const noise = (numbers[2 * step + 1] ?? 0) / 2 ** 32 - 0.5;
        parts.push({ amount: 0.03 * exposure + 0.2 * noise, exposure });
      }
      const { low, high } = ratioInterval(parts);
      if (low <= 0.03 && 0.03 <= high) held++;
    }
    expect(held / bouts).toBeGreaterThan(0.93);
    expect(held / bouts).toBeLessThan(0.97);
  });

  test.each([
    [[]],
    [[{ amount: 1, exposure: 1 }]],
    [
      [
        { amount: 1, exposure: 0 },
        { amount: 1, exposure: 1 },
      ],
    ],
    [
      [
        { amount: 1, exposure: -1 },
        { amount: 1, exposure: 1 },
      ],
    ],
    [
      [
        { amount: NaN, exposure: 1 },
        { amount: 1, exposure: 1 },
      ],
    ],
  ])("is refused for %j", (parts) => {
    expect(() => ratioInterval(parts)).toThrow(RangeError);
  });
});
