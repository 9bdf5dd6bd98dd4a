// How sure is a number? Intervals of shares, counts, means, medians and ratios, differences, exact tests, agreement:
// numbers in, numbers out. Every interval has two equal tails. A wrong argument is a bug of the caller and throws a
// RangeError.

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
export { pairedDifference, shareDifference, type Pairs, type Share } from "./difference";
export { fisherTest } from "./fisher";
export { rateRatio, type Events, type RateRatio } from "./rate-ratio";
export { holm } from "./holm";
export { medianInterval, type MedianInterval } from "./median";
export { cohensKappa, type Kappa } from "./kappa";
export { fleissKappa, krippendorffsAlpha, type FleissKappa, type ManyReaders } from "./many-readers";
export { atLeast, meanOf, middle, twoSided, upTo, type Distribution } from "./distribution";
export { hypergeometric } from "./hypergeometric";
export {
  afterOther,
  afterSame,
  allOrders,
  drawnOrders,
  longestRunDistribution,
  orderFigures,
  runsDistribution,
  type OrderDistributions,
  type OrderFigures,
} from "./order";
export {
  commonSlope,
  pooledMean,
  pooledShare,
  type Measured,
  type PooledMean,
  type PooledShare,
  type Slope,
} from "./pooled";
