// How many marked cases are among those drawn without putting them back? The distribution behind Fisher's test and
// behind the order of touches.

import type { Distribution } from "./distribution";
import { requireCount } from "./level";

/**
 * Marked cases among `drawn` from `marked` and `unmarked` ones. Probabilities grow from the likeliest number outwards
 * by their ratios, so that they keep their digits far into the tails.
 */
export function hypergeometric(marked: number, unmarked: number, drawn: number): Distribution {
  requireCount(marked, "marked");
  requireCount(unmarked, "unmarked");
  requireCount(drawn, "drawn");
  if (drawn > marked + unmarked) throw new RangeError(`${drawn} can't be drawn from ${marked + unmarked}`);
  const from = Math.max(0, drawn - unmarked);
  const to = Math.min(marked, drawn);
  const weights = new Float64Array(to - from + 1);
  const mode = Math.min(
    to,
    Math.max(from, Math.floor(((marked + 1) * (drawn + 1)) / (marked + unmarked + 2))),
  );
  /** Probability of x + 1 over that of x. */
  const ratio = (x: number) => ((marked - x) * (drawn - x)) / ((x + 1) * (unmarked - drawn + x + 1));
  weights[mode - from] = 1;
  for (let x = mode; x < to; x++) weights[x + 1 - from] = (weights[x - from] ?? 0) * ratio(x);
  for (let x = mode - 1; x >= from; x--) weights[x - from] = (weights[x + 1 - from] ?? 0) / ratio(x);
  const sum = weights.reduce((total, weight) => total + weight, 0);
  return { from, probabilities: weights.map((weight) => weight / sum) };
}
