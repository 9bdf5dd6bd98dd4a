// In how many orders of the same two kinds of events would they come in so few runs, or in so long a one? Every order
// of the same events counts alike, so nothing is asked of how likely either kind is.

import { distributionOf, type Distribution } from "./distribution";
import { hypergeometric } from "./hypergeometric";
import { requireCount } from "./level";
import { seededRandom } from "./random";

/**
 * Unbroken series of one kind, over all orders of `first` events of one kind and `second` of the other, at least one
 * of each. Wald and Wolfowitz, Annals of Mathematical Statistics 11 (1940) 147-162: an even number of runs where the
 * two ends differ, an odd one where they are alike.
 */
export function runsDistribution(first: number, second: number): Distribution {
  requireEach(first, second);
  const of = first + second;
  const probabilities = new Float64Array(of - 1);
  const add = ({ from, probabilities: parts }: Distribution, runs: (x: number) => number, weight: number) =>
    parts.forEach((probability, index) => {
      const place = runs(from + index) - 2;
      probabilities[place] = (probabilities[place] ?? 0) + weight * probability;
    });
  const pairs = of * (of - 1);
  const differ = hypergeometric(first - 1, second - 1, second - 1);
  add(differ, (x) => 2 * (x + 1), (2 * first * second) / pairs);
  if (first > 1)
    add(hypergeometric(first - 1, second - 1, second), (x) => 2 * x + 1, (first * (first - 1)) / pairs);
  if (second > 1)
    add(hypergeometric(second - 1, first - 1, first), (x) => 2 * x + 1, (second * (second - 1)) / pairs);
  const last = probabilities.findLastIndex((probability) => probability > 0);
  return { from: 2, probabilities: probabilities.slice(0, last + 1) };
}

/**
 * How often an event of the first kind comes straight after one of the second. There are
 * C(first, x) · C(second, x) orders with x such places, which is a hypergeometric distribution.
 */
export function afterOther(first: number, second: number): Distribution {
  return hypergeometric(first, second, second);
}

/** How often an event of the first kind comes straight after one of its own kind: all of them but one a run. */
export function afterSame(first: number, second: number): Distribution {
  requireCount(second, "second");
  if (first < 1) return { from: 0, probabilities: Float64Array.of(1) };
  // C(first - 1, r - 1) · C(second + 1, r) orders have r runs of the first kind, and first - r such places.
  return hypergeometric(first - 1, second + 1, first);
}

/**
 * The longest run of the first kind. Few events: every order counted by how its `first` events fill the
 * `second + 1` places between and around the others. Many: by inclusion and exclusion, to within 1e-6.
 */
export function longestRunDistribution(first: number, second: number): Distribution {
  requireCount(first, "first");
  requireCount(second, "second");
  const shortest = Math.ceil(first / (second + 1));
  const few = first * (second + 1) <= cellsCounted;
  const whole = few ? filled(first, second, first) : 1;
  const noLonger = (longest: number) =>
    few ? filled(first, second, longest) / whole : excluded(first, second, longest);
  const probabilities: number[] = [];
  let before = 0;
  for (let longest = shortest; longest <= first; longest++) {
    const now = longest === first ? 1 : Math.max(before, noLonger(longest));
    probabilities.push(now - before);
    before = now;
    if (1 - now < 1e-15) break;
  }
  return { from: shortest, probabilities: Float64Array.from(probabilities) };
}

/** Up to this many cells of the exact count are filled; a bout to 45 touches needs some 500. */
const cellsCounted = 5000;

/** Probability that no run of the first kind is longer than `longest`. */
function excluded(first: number, second: number, longest: number): number {
  const places = second + 1;
  let term = 1;
  let sum = 1;
  // Term j: C(places, j) · C(first + second - j(longest + 1), second) / C(first + second, second), signs alternating.
  for (let j = 1; j <= places && j * (longest + 1) <= first; j++) {
    term *= (places - j + 1) / j;
    const events = first + second - (j - 1) * (longest + 1);
    for (let step = 0; step <= longest; step++) term *= (events - step - second) / (events - step);
    // Beyond this sum the alternating terms would eat each other's digits, and the probability is below 1e-6.
    if (j === 1 && term > 14) return 0;
    sum += j % 2 === 1 ? -term : term;
    if (term < 1e-18) break;
  }
  return Math.max(0, sum);
}

/**
 * The same, but for a factor that does not depend on `longest`: independent geometric numbers in each place, given
 * their sum, are as likely as all orders; so the count runs over probabilities, which neither overflow nor cancel.
 */
function filled(first: number, second: number, longest: number): number {
  const stay = first / (first + second + 1);
  const over = stay ** (longest + 1);
  let sums = new Float64Array(first + 1);
  sums[0] = 1;
  for (let place = 0; place <= second; place++) {
    const next = new Float64Array(first + 1);
    // One more event in this place than for the sum before, less what would be over the longest.
    let window = 0;
    for (let sum = 0; sum <= first; sum++) {
      const gone = sum > longest ? (sums[sum - longest - 1] ?? 0) * over : 0;
      window = Math.max(0, window * stay + (sums[sum] ?? 0) - gone);
      next[sum] = window * (1 - stay);
    }
    sums = next;
  }
  return sums[first] ?? 0;
}

function requireEach(first: number, second: number): void {
  requireCount(first, "first");
  requireCount(second, "second");
  if (first === 0 || second === 0) throw new RangeError("an order needs events of both kinds");
}

export interface OrderFigures {
  readonly runs: number;
  /** Of the first kind and of the second. */
  readonly longest: readonly [number, number];
  readonly afterOther: readonly [number, number];
  readonly afterSame: readonly [number, number];
}

/** The figures of an order in stretches: events on two sides of a break are no neighbours. `true`: of the first kind. */
export function orderFigures(stretches: readonly (readonly boolean[])[]): OrderFigures {
  const counts = { runs: 0, longest: [0, 0], other: [0, 0], same: [0, 0] };
  const add = (list: number[], kind: 0 | 1) => (list[kind] = (list[kind] ?? 0) + 1);
  for (const stretch of stretches) {
    let length = 0;
    stretch.forEach((isFirst, index) => {
      const kind = isFirst ? 0 : 1;
      const before = stretch[index - 1];
      length = before === isFirst ? length + 1 : 1;
      if (length === 1) counts.runs++;
      counts.longest[kind] = Math.max(counts.longest[kind] ?? 0, length);
      if (before !== undefined) add(before === isFirst ? counts.same : counts.other, kind);
    });
  }
  const pair = ([one = 0, other = 0]: number[]) => [one, other] as const;
  return {
    runs: counts.runs,
    longest: pair(counts.longest),
    afterOther: pair(counts.other),
    afterSame: pair(counts.same),
  };
}

export interface OrderDistributions {
  readonly runs: Distribution;
  readonly longest: readonly [Distribution, Distribution];
  readonly afterOther: readonly [Distribution, Distribution];
  readonly afterSame: readonly [Distribution, Distribution];
}

/** Over all orders of an unbroken series, by formula. */
export function allOrders(first: number, second: number): OrderDistributions {
  return {
    runs: runsDistribution(first, second),
    longest: [longestRunDistribution(first, second), longestRunDistribution(second, first)],
    afterOther: [afterOther(first, second), afterOther(second, first)],
    afterSame: [afterSame(first, second), afterSame(second, first)],
  };
}

const draws = 10_000;

/**
 * The same by 10,000 seeded shuffles of all events over the stretches, the order seen counted as one more (Davison and
 * Hinkley, Bootstrap Methods and their Application, 1997, section 4.2).
 */
export function drawnOrders(stretches: readonly (readonly boolean[])[], seed = 1): OrderDistributions {
  const random = seededRandom(seed);
  const events = stretches.flat();
  const numbers = new Uint32Array(events.length);
  const seen = [orderFigures(stretches)];
  for (let draw = 0; draw < draws; draw++) {
    random(numbers);
    for (let place = events.length - 1; place > 0; place--) {
      const other = Math.floor(((numbers[place] ?? 0) * (place + 1)) / 2 ** 32);
      const moved = events[place] ?? false;
      events[place] = events[other] ?? false;
      events[other] = moved;
    }
    let from = 0;
    seen.push(orderFigures(stretches.map(({ length }) => events.slice(from, (from += length)))));
  }
  const over = (value: (figures: OrderFigures) => number) => distributionOf(seen.map(value));
  return {
    runs: over(({ runs }) => runs),
    longest: [over(({ longest }) => longest[0]), over(({ longest }) => longest[1])],
    afterOther: [over((figures) => figures.afterOther[0]), over((figures) => figures.afterOther[1])],
    afterSame: [over((figures) => figures.afterSame[0]), over((figures) => figures.afterSame[1])],
  };
}
