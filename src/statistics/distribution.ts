// What can be said of a distribution over whole numbers: its mean, its tails, its middle.

/** Probabilities of `from`, `from + 1` and so on, which add up to 1. */
export interface Distribution {
  readonly from: number;
  readonly probabilities: Float64Array;
}

export function meanOf({ from, probabilities }: Distribution): number {
  return probabilities.reduce((sum, probability, index) => sum + probability * (from + index), 0);
}

/** Probability of at most this value. */
export function upTo({ from, probabilities }: Distribution, value: number): number {
  const last = Math.min(value - from, probabilities.length - 1);
  let sum = 0;
  for (let index = 0; index <= last; index++) sum += probabilities[index] ?? 0;
  return Math.min(1, sum);
}

/** Probability of at least this value. */
export function atLeast({ from, probabilities }: Distribution, value: number): number {
  let sum = 0;
  for (let index = probabilities.length - 1; index >= Math.max(0, value - from); index--)
    sum += probabilities[index] ?? 0;
  return Math.min(1, sum);
}

/** Twice the smaller of the two tails that hold the value, at most 1. */
export function twoSided(distribution: Distribution, value: number): number {
  return Math.min(1, 2 * Math.min(upTo(distribution, value), atLeast(distribution, value)));
}

/** The quantiles at 2.5 % and 97.5 %: at least 95 % of the probability lies from `low` to `high`. */
export function middle({ from, probabilities }: Distribution): {
  readonly low: number;
  readonly high: number;
} {
  // Sums of the same probabilities in another order differ in their last digits.
  const slack = 1e-12;
  let sum = 0;
  let low: number | undefined;
  for (let index = 0; index < probabilities.length; index++) {
    sum += probabilities[index] ?? 0;
    if (low === undefined && sum >= 0.025 - slack) low = from + index;
    if (sum >= 0.975 - slack) return { low: low ?? from + index, high: from + index };
  }
  const last = from + probabilities.length - 1;
  return { low: low ?? last, high: last };
}

/** The distribution that whole numbers drawn again and again show. */
export function distributionOf(values: ArrayLike<number>): Distribution {
  let lowest = Infinity;
  let highest = -Infinity;
  for (let index = 0; index < values.length; index++) {
    lowest = Math.min(lowest, values[index] ?? 0);
    highest = Math.max(highest, values[index] ?? 0);
  }
  const probabilities = new Float64Array(highest - lowest + 1);
  for (let index = 0; index < values.length; index++) {
    const place = (values[index] ?? 0) - lowest;
    probabilities[place] = (probabilities[place] ?? 0) + 1 / values.length;
  }
  return { from: lowest, probabilities };
}
