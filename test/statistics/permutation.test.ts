import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { permutationTest, type RatioPart, seededRandom } from "../../src/statistics";

/** Whole centimetres, so that ties are ties. */
const part = fc.record({
  amount: fc.integer({ min: -20, max: 20 }),
  exposure: fc.integer({ min: 1, max: 4 }),
});
const group = fc.array(part, { minLength: 1, maxLength: 6 });

function single(amounts: readonly number[]): readonly RatioPart[] {
  return amounts.map((amount) => ({ amount, exposure: 1 }));
}

/** All assignments, with fractions compared by cross-multiplication in whole numbers. */
function byEnumeration(first: readonly RatioPart[], second: readonly RatioPart[]): number {
  const all = [...first, ...second];
  const difference = (chosen: readonly boolean[]): readonly [number, number] => {
    const sum = (of: keyof RatioPart, side: boolean): number =>
      all.reduce((total, part, index) => total + (chosen[index] === side ? part[of] : 0), 0);
    const over = sum("exposure", true) * sum("exposure", false);
    const under = sum("amount", true) * sum("exposure", false) - sum("amount", false) * sum("exposure", true);
    return [Math.abs(under), over];
  };
  const seen = difference(all.map((_, index) => index < first.length));
  let extreme = 0;
  let arrangements = 0;
  for (let bits = 0; bits < 2 ** all.length; bits++) {
    const chosen = all.map((_, index) => ((bits >> index) & 1) === 1);
    if (chosen.filter(Boolean).length !== first.length) continue;
    arrangements++;
    const [under, over] = difference(chosen);
    if (under * seen[1] >= seen[0] * over) extreme++;
  }
  return extreme / arrangements;
}

describe("a permutation test that looks at all arrangements", () => {
  test("finds 2 of 20 when three values all lie above three others", () => {
    const result = permutationTest(single([121, 118, 110]), single([34, 12, 22]));
    expect(result).toEqual({
      difference: expect.closeTo(281 / 3, 9) as number,
      p: 0.1,
      arrangements: 20,
      drawn: false,
    });
  });

  test("agrees with plain enumeration, ties and unequal stretches included", () => {
    fc.assert(
      fc.property(group, group, (first, second) => {
        expect(permutationTest(first, second).p).toBeCloseTo(byEnumeration(first, second), 12);
      }),
    );
  });

  test("counts ties as ties in centimetres and in metres alike", () => {
    fc.assert(
      fc.property(group, group, (first, second) => {
        const metres = (parts: readonly RatioPart[]): readonly RatioPart[] =>
          parts.map(({ amount, exposure }) => ({ amount: amount / 100, exposure }));
        expect(permutationTest(metres(first), metres(second)).p).toBe(permutationTest(first, second).p);
      }),
    );
  });

  test("does not mind which group comes first", () => {
    fc.assert(
      fc.property(group, group, (first, second) => {
        const one = permutationTest(first, second);
        const other = permutationTest(second, first);
        expect(other.p).toBe(one.p);
        expect(other.difference).toBeCloseTo(-one.difference, 12);
      }),
    );
  });

  test("gives 1 where nothing moved", () => {
    expect(permutationTest(single([0, 0, 0]), single([0, 0])).p).toBe(1);
  });

  test("stops at 100,000 of them", () => {
    const of = (n: number): readonly RatioPart[] => single(Array.from({ length: n }, (_, index) => index));
    expect(permutationTest(of(10), of(9))).toMatchObject({ arrangements: 92_378, drawn: false });
    expect(permutationTest(of(10), of(10))).toMatchObject({ arrangements: 10_000, drawn: true });
    expect(permutationTest(of(2), of(445))).toMatchObject({ arrangements: 99_681, drawn: false });
    expect(permutationTest(of(1), of(99_999))).toMatchObject({ arrangements: 100_000, drawn: false });
    expect(permutationTest(of(1), of(100_000))).toMatchObject({ arrangements: 10_000, drawn: true });
    expect(permutationTest(of(500), of(500))).toMatchObject({ arrangements: 10_000, drawn: true });
  });
});

describe("a permutation test that draws", () => {
  const near = single([3, 5, 2, 8, 6, 4, 9, 1, 7, 5, 6, 4]);
  const far = single([5, 9, 8, 6, 7, 12, 4, 10, 8, 7, 3, 11]);

  test("comes out the same every time, and differently for another seed", () => {
    expect(permutationTest(near, far)).toEqual(permutationTest(near, far));
    expect(permutationTest(near, far, 2).p).not.toBe(permutationTest(near, far, 1).p);
  });

  test("comes near what all arrangements would give", () => {
    // 24 choose 12 is 2,704,156: all of them, counted through the number of ways to reach each sum.
    const values = [...near, ...far].map(({ amount }) => amount);
    const ways = Array.from({ length: 13 }, () => new Map<number, number>());
    ways[0]?.set(0, 1);
    for (const value of values) {
      for (let size = 11; size >= 0; size--) {
        for (const [sum, count] of ways[size] ?? []) {
          const next = ways[size + 1];
          next?.set(sum + value, (next.get(sum + value) ?? 0) + count);
        }
      }
    }
    const whole = values.reduce((sum, value) => sum + value, 0);
    const seen = Math.abs(2 * near.reduce((sum, { amount }) => sum + amount, 0) - whole);
    let extreme = 0;
    for (const [sum, count] of ways[12] ?? []) if (Math.abs(2 * sum - whole) >= seen) extreme += count;
    const exact = extreme / 2_704_156;
    const { p, drawn } = permutationTest(near, far);
    expect(drawn).toBe(true);
    expect(Math.abs(p - exact)).toBeLessThan(4 * Math.sqrt((exact * (1 - exact)) / 10_000));
  });

  test("never gives 0", () => {
    const low = single(Array.from({ length: 30 }, (_, index) => index));
    const high = single(Array.from({ length: 30 }, (_, index) => 1000 + index));
    expect(permutationTest(low, high).p).toBe(1 / 10_001);
  });

  test("finds chance alone unusual about 5 times in 100", () => {
    const random = seededRandom(3);
    const numbers = new Uint32Array(24);
    let unusual = 0;
    const bouts = 400;
    for (let bout = 0; bout < bouts; bout++) {
      random(numbers);
      const parts = Array.from(numbers, (number) => ({
        amount: number / 2 ** 32,
        exposure: 1 + (number % 3),
      }));
      if (permutationTest(parts.slice(0, 12), parts.slice(12), bout).p <= 0.05) unusual++;
    }
    expect(unusual / bouts).toBeGreaterThan(0.02);
    expect(unusual / bouts).toBeLessThan(0.085);
  });
});

test("a permutation test is refused for an empty group, an exposure of 0, and what is no number", () => {
  expect(() => permutationTest([], single([1]))).toThrow(RangeError);
  expect(() => permutationTest(single([1]), [])).toThrow(RangeError);
  expect(() => permutationTest(single([1]), [{ amount: 1, exposure: 0 }])).toThrow(RangeError);
  expect(() => permutationTest(single([1]), single([NaN]))).toThrow(RangeError);
});
