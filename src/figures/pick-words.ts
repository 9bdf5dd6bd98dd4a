// A pick in plain words: "riposte or counter-riposte, touch right, after a changed review".

import type { Pick } from "./pick-format";

/** "every phrase" where nothing is asked. */
export function pickInWords(pick: Pick): string {
  const parts: readonly (string | undefined)[] = [
    words(pick.fencer, (fencer) => `of ${fencer}`),
    words(pick.actions, (action) => action),
    words(pick.families, (family) => `${family} family`),
    words(pick.scored, (action) => `scored by ${action}`),
    words(pick.scoredFamilies, (family) => `scored by the ${family} family`),
    words(pick.opener, (opener) => (opener === "untagged" ? "not tagged" : `${opener} opened`)),
    words(pick.award, (award) =>
      award === "none" ? "no touch" : award === "waiting" ? "not decided" : `touch ${award}`,
    ),
    words(pick.bothLamps, (both) => (both ? "both lamps" : "not both lamps")),
    words(pick.review, (review) =>
      review === "any" ? "reviewed" : review === "none" ? "not reviewed" : `review: ${review}`,
    ),
    words(pick.reviewBy, (by) => `review asked for by ${by}`),
    words(pick.card, (card) => (card === "any" ? "a card after it" : `${card} card after it`)),
    words(pick.cardTo, (to) => `card to ${to}`),
    words(pick.stop, (stop) => (stop === "any" ? "a stop after it" : `stop for ${stop} after it`)),
    words(pick.periods, (period) => (period === "extra" ? "extra minute" : `period ${period}`)),
    words(pick.targets, (target) => `on ${target}`),
    words(pick.tags, (tag) => `tagged "${tag}"`),
    words(pick.star, (star) => (star ? "starred" : "not starred")),
    words(pick.unsure, (unsure) => (unsure ? "not sure" : "sure")),
    pick.phrases === undefined ? undefined : `${pick.phrases.length} picked by hand`,
    words(pick.numbers, (number) => `phrase ${number}`),
  ];
  const said = parts.filter((part) => part !== undefined);
  return said.length === 0 ? "every phrase" : said.join(", ");
}

function words<T extends string | number | boolean>(
  part: T | readonly T[] | undefined,
  say: (one: T) => string,
): string | undefined {
  if (part === undefined) return undefined;
  return ([part].flat() as readonly T[]).map(say).join(" or ");
}
