import { expect, test } from "vitest";
import { seededRandom, xoshiro128 } from "../../src/statistics";

test("the generator gives the reference sequence of xoshiro128++ from 1, 2, 3, 4", () => {
  // From the reference implementation, as in the tests of the Rust crate rand_xoshiro.
  const numbers = new Uint32Array(10);
  xoshiro128([1, 2, 3, 4])(numbers);
  expect([...numbers]).toEqual([
    641, 1573767, 3222811527, 3517856514, 836907274, 4247214768, 3867114732, 1355841295, 495546011, 621204420,
  ]);
});

test("a sequence goes on where it stopped, whatever the portions", () => {
  const whole = new Uint32Array(10);
  seededRandom(7)(whole);
  const random = seededRandom(7);
  const portions = [3, 0, 7].map((length) => {
    const portion = new Uint32Array(length);
    random(portion);
    return [...portion];
  });
  expect(portions.flat()).toEqual([...whole]);
});

test("each seed gives its own sequence, evenly spread", () => {
  const firsts = new Set<number>();
  for (let seed = 0; seed < 1000; seed++) {
    const numbers = new Uint32Array(1);
    seededRandom(seed)(numbers);
    firsts.add(numbers[0] ?? 0);
  }
  expect(firsts.size).toBe(1000);
  const upper = [...firsts].filter((number) => number >= 2 ** 31).length;
  expect(upper).toBeGreaterThan(430);
  expect(upper).toBeLessThan(570);
});

test("seeds out of range and a start from zeros are refused", () => {
  for (const seed of [-1, 0.5, 2 ** 32, NaN]) expect(() => seededRandom(seed)).toThrow(RangeError);
  expect(() => xoshiro128([0, 0, 0, 0])).toThrow(RangeError);
});
