// How sure is a number? Intervals of shares, counts, means and ratios, and two exact tests: numbers in, numbers out.
// Every interval has two equal tails. A wrong argument is a bug of the caller and throws a RangeError.

export { meanInterval, tQuantile, type MeanInterval } from "./mean";
export { perMinute, poissonInterval, rateInterval, type CountPerMinute } from "./count";
export {
  clopperPearsonInterval,
  clopperPearsonRate,
  wilsonInterval,
  wilsonRate,
  type Rate,
} from "./proportion";
export { ratioInterval, type Estimate, type RatioPart } from "./ratio";
export { permutationTest, type PermutationResult } from "./permutation";
export { seededRandom, xoshiro128, type RandomSource } from "./random";
export { signTest, signTestOfCounts, type SignTest } from "./sign-test";
export { normalHalfWidth, type Interval } from "./level";
