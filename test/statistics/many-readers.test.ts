import { describe, expect, test } from "vitest";
import { fleissKappa, krippendorffsAlpha } from "../../src/statistics";
import { fleiss1971, krippendorff2011 } from "./published-readers";

/** Rows of readers to the answers of each case. */
function byCase(readers: readonly (readonly (string | null)[])[]): string[][] {
  return (readers[0] ?? []).map((_, place) => readers.flatMap((row) => row[place] ?? []));
}

describe("Fleiss' kappa", () => {
  test("is that of the psychiatrists of 1971, and so far from chance", () => {
    const { value, errorByChance, low, high } = fleissKappa(fleiss1971.counts);
    expect(value).toBeCloseTo(fleiss1971.kappa, 6);
    expect((value ?? 0) / (errorByChance ?? 1)).toBeCloseTo(fleiss1971.z, 4);
    expect(low).toBeLessThan(value ?? 0);
    expect(high).toBeGreaterThan(value ?? 0);
  });

  test("has limits as wide as leaving one case out at a time gives, within a tenth", () => {
    const { counts } = fleiss1971;
    const n = counts.length;
    const without = counts.map(
      (_, out) => fleissKappa(counts.filter((__, index) => index !== out)).value ?? 0,
    );
    const mean = without.reduce((sum, one) => sum + one, 0) / n;
    const error = Math.sqrt(((n - 1) / n) * without.reduce((sum, one) => sum + (one - mean) ** 2, 0));
    const { low, high } = fleissKappa(counts);
    expect(((high ?? 0) - (low ?? 0)) / (2 * 1.959964 * error)).toBeCloseTo(1, 1);
  });

  test("says nothing where one word was used throughout, and no limits where all agree", () => {
    expect(
      fleissKappa([
        [3, 0],
        [3, 0],
      ]),
    ).toMatchObject({ alike: 1, value: null, low: null });
    expect(
      fleissKappa([
        [3, 0],
        [0, 3],
      ]),
    ).toMatchObject({ alike: 1, value: 1, low: null, high: null });
    expect(fleissKappa([])).toMatchObject({ cases: 0, value: null });
  });

  test("refuses cases answered by different numbers of readers", () => {
    expect(() =>
      fleissKappa([
        [2, 1],
        [2, 0],
      ]),
    ).toThrow(RangeError);
  });
});

describe("Krippendorff's alpha", () => {
  test.each(krippendorff2011)("is that of the published example $name", ({ alpha, readers }) => {
    const found = krippendorffsAlpha(byCase(readers));
    expect(found.value).toBeCloseTo(alpha, 12);
    expect(found.low).toBeLessThan(alpha);
    expect(found.high).toBeGreaterThan(alpha);
  });

  test("comes out the same every time it is read", () => {
    const cases = byCase(krippendorff2011[2].readers);
    expect(krippendorffsAlpha(cases)).toEqual(krippendorffsAlpha(cases));
  });

  test("leaves out a case with one answer and says nothing where all answers are one word", () => {
    expect(krippendorffsAlpha([["a"], ["a", "b"], ["b", "b"]]).cases).toBe(2);
    expect(
      krippendorffsAlpha([
        ["a", "a"],
        ["a", "a"],
      ]),
    ).toMatchObject({ alike: 1, value: null });
    expect(krippendorffsAlpha([])).toMatchObject({ cases: 0, alike: null, value: null });
  });
});
