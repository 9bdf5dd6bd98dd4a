// How far may each of several tests still be trusted when all of them were tried?

/**
 * The probabilities adjusted for how many there are, in the same order: refusing those at most 0.05 then errs anywhere
 * in at most 5 % of pages. Holm, Scandinavian Journal of Statistics 6 (1979) 65-70.
 */
export function holm(probabilities: readonly number[]): readonly number[] {
  for (const p of probabilities)
    if (!(p >= 0 && p <= 1)) throw new RangeError(`A probability lies between 0 and 1, not ${p}`);
  const order = probabilities.map((p, index) => ({ p, index })).sort((one, other) => one.p - other.p);
  const adjusted = new Array<number>(probabilities.length);
  let least = 0;
  order.forEach(({ p, index }, rank) => {
    least = Math.max(least, Math.min(1, p * (order.length - rank)));
    adjusted[index] = least;
  });
  return adjusted;
}
