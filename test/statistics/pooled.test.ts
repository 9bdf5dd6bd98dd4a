// Pooling over bouts against R: metafor's random effects, survey's limits, lm; cases made by reference/pooled.R.

import { readFileSync } from "node:fs";
import path from "node:path";
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { commonSlope, pooledMean, pooledShare } from "../../src/statistics";
import { expectClose } from "./close-to";

const text = readFileSync(path.join(import.meta.dirname, "reference", "pooled.txt"), "utf8");
const cases = new Map(
  text
    .split("# ")
    .slice(1)
    .map((list) => {
      const [name = "", ...lines] = list.trim().split("\n");
      return [name.trim(), lines.map((line) => line.trim().split(" ").map(Number))] as const;
    }),
);

/** The case's number of groups, its columns of that length, and what is left of the line. */
function taken(line: readonly number[], columns: number) {
  const [groups = 0] = line;
  const column = (index: number) => line.slice(1 + index * groups, 1 + (index + 1) * groups);
  return { groups, column, rest: line.slice(1 + columns * groups) };
}

function listed(name: string, atLeast: number): readonly (readonly number[])[] {
  const found = cases.get(name) ?? [];
  expect(found.length).toBeGreaterThanOrEqual(atLeast);
  return found;
}

describe("pooling over bouts", () => {
  test("a mean difference has the limits and the p of metafor's Paule-Mandel with Hartung-Knapp", () => {
    for (const line of listed("means", 150)) {
      const { column, rest } = taken(line, 2);
      const [variances, values] = [column(1), column(0)];
      const found = pooledMean(values.map((value, at) => ({ value, variance: variances[at] ?? NaN })));
      const { value, standardError, between, low, high, p } = found;
      // R's own root is searched to some 1e-13 of a variance, whose square root is told.
      [value, standardError, between, low, high, p].forEach((one, at) =>
        expectClose(one, rest[at] ?? NaN, 1e-6, 1e-6),
      );
    }
  });

  test("a share has the limits of survey's Korn-Graubard intervals", () => {
    for (const line of listed("shares", 150)) {
      const { column, rest } = taken(line, 2);
      const [counts, ofs] = [column(0), column(1)];
      const { low, high } = pooledShare(counts.map((count, at) => ({ count, of: ofs[at] ?? NaN })));
      expectClose(low ?? NaN, rest[0] ?? NaN, 1e-8, 1e-8);
      expectClose(high ?? NaN, rest[1] ?? NaN, 1e-8, 1e-8);
    }
  });

  test("how far bouts differ is the moment estimate from R's analysis of variance", () => {
    for (const line of listed("spread", 100)) {
      const { column, rest } = taken(line, 2);
      const [counts, ofs] = [column(0), column(1)];
      const { between } = pooledShare(counts.map((count, at) => ({ count, of: ofs[at] ?? NaN })));
      expectClose(between ?? NaN, rest[0] ?? NaN, 1e-8, 1e-7);
    }
  });

  test("a common slope is that of lm with a level for each group", () => {
    for (const line of listed("slopes", 100)) {
      const { column, rest } = taken(line, 4);
      const [xs, ys, weights, groups] = [column(0), column(1), column(2), column(3)];
      const found = commonSlope(
        xs.map((x, at) => ({ x, y: ys[at] ?? NaN, weight: weights[at] ?? NaN, group: String(groups[at]) })),
      );
      if (found === null) throw new Error("no slope");
      [found.value, found.low, found.high, found.p].forEach((one, at) =>
        expectClose(one, rest[at] ?? NaN, 1e-7, 1e-8),
      );
    }
  });

  test("one bout has a share and no limits, none has neither", () => {
    expect(pooledShare([{ count: 3, of: 8 }])).toEqual({
      count: 3,
      of: 8,
      groups: 1,
      value: 3 / 8,
      low: null,
      high: null,
      between: null,
    });
    expect(pooledShare([{ count: 0, of: 0 }]).value).toBeNull();
  });

  test("limits lie around the share, within 0 and 1, and never leave it out", () => {
    const groups = fc.array(
      fc.tuple(fc.nat(20), fc.nat(20)).map(([count, more]) => ({ count, of: count + more })),
      { minLength: 2, maxLength: 10 },
    );
    fc.assert(
      fc.property(groups, (some) => {
        const { value, low, high } = pooledShare(some);
        if (value === null || low === null || high === null) return;
        expect(low).toBeGreaterThanOrEqual(0);
        expect(low).toBeLessThanOrEqual(value);
        expect(high).toBeGreaterThanOrEqual(value);
        expect(high).toBeLessThanOrEqual(1);
      }),
    );
  });

  test("what can't be pooled is refused", () => {
    expect(() => pooledMean([{ value: 1, variance: 1 }])).toThrow(RangeError);
    expect(() => pooledMean([0, 1].map((value) => ({ value, variance: 0 })))).toThrow(RangeError);
    expect(() => pooledShare([{ count: 2, of: 1 }])).toThrow(RangeError);
  });
});
