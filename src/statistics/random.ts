// Chance that comes out the same every time: a seeded generator, so that a figure never changes by being read again.

/** Fills the array with the next numbers of a sequence, each uniform over 0 … 2^32 - 1. */
export type RandomSource = (numbers: Uint32Array) => void;

/**
 * xoshiro128++ 1.0 (Blackman and Vigna, "Scrambled linear pseudorandom number generators", ACM Transactions on
 * Mathematical Software 47 (2021) 36), started from four 32-bit words that are not all 0.
 */
export function xoshiro128(start: readonly [number, number, number, number]): RandomSource {
  if (start.every((word) => (word | 0) === 0)) {
    throw new RangeError("The generator can't start from zeros alone");
  }
  let [first, second, third, fourth] = start;
  return (numbers) => {
    let a = first | 0;
    let b = second | 0;
    let c = third | 0;
    let d = fourth | 0;
    for (let index = 0; index < numbers.length; index++) {
      const sum = (a + d) | 0;
      numbers[index] = ((sum << 7) | (sum >>> 25)) + a;
      const shifted = b << 9;
      c ^= a;
      d ^= b;
      b ^= c;
      a ^= d;
      c ^= shifted;
      d = (d << 11) | (d >>> 21);
    }
    first = a;
    second = b;
    third = c;
    fourth = d;
  };
}

/**
 * The generator of this project for a whole-number seed below 2^32: xoshiro128++ started from the seed and three
 * constants of our choosing, its first 32 numbers passed over so that neighbouring seeds part ways.
 */
export function seededRandom(seed: number): RandomSource {
  if (!Number.isInteger(seed) || seed < 0 || seed >= 2 ** 32) {
    throw new RangeError(`A seed is a whole number from 0 below 2^32, not ${seed}`);
  }
  const random = xoshiro128([seed, 0x2545f491, 0x6a09e667, 0x3c6ef373]);
  random(new Uint32Array(32));
  return random;
}
