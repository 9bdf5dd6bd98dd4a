// Could two shares of different cases be the same?

import type { Share } from "./difference";
import { hypergeometric } from "./hypergeometric";
import { requireCount } from "./level";

/** Tables whose probability differs from that of the one seen in the last digits only are as likely as it. */
const asLikely = 1 + 1e-7;

/**
 * Fisher's exact test of two shares, two-sided: the probability of all tables with the same margins that are no
 * likelier than the one seen. Fisher, Journal of the Royal Statistical Society 98 (1935) 39-54, with the two-sided
 * rule of Freeman and Halton, Biometrika 38 (1951) 141-149.
 */
export function fisherTest(first: Share, second: Share): number {
  for (const { count, of } of [first, second]) {
    requireCount(count, "count");
    requireCount(of, "of");
    if (count > of) throw new RangeError(`count is at most of: ${count} is more than ${of}`);
  }
  const { from, probabilities } = hypergeometric(first.of, second.of, first.count + second.count);
  const seen = (probabilities[first.count - from] ?? 0) * asLikely;
  let p = 0;
  for (const probability of probabilities) if (probability <= seen) p += probability;
  return Math.min(1, p);
}
