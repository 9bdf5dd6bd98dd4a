// What the referee made of both lamps, and how often officials looked again.

import type { Evidence, ReviewEvidence, Sheet } from "../figures";
import type { Sided } from "../rules";
import type { Play } from "./evidence";
import { markup, type Content, type Markup } from "./markup";

export function bothLampsTable(
  bothLamps: Sheet["bothLamps"],
  evidence: Evidence["bothLamps"],
  names: Sided<string>,
  play: Play,
): Markup {
  const line = (key: keyof Evidence["bothLamps"], words: string) => {
    const count = bothLamps[key];
    return (
      count !== undefined &&
      countLine(
        words,
        play({ key: `bothLamps.${key}`, title: `both lamps, ${words}`, entries: evidence[key] }, count),
      )
    );
  };
  return markup`<table class="plain counts"><caption>Both valid lamps lit, by the call that stood</caption><tbody>${[
    line("left", `touch ${names.left}`),
    line("right", `touch ${names.right}`),
    line("both", "a touch each"),
    line("neither", "no touch"),
  ]}</tbody></table>`;
}

export function reviewsTable(
  reviews: Sheet["reviews"]["byOfficials"],
  evidence: ReviewEvidence,
  play: Play,
): Markup {
  const line = (key: keyof typeof reviews, words: string) =>
    countLine(
      words,
      play(
        { key: `reviews.${key}`, title: `reviews by officials, ${words}`, entries: evidence[key] },
        reviews[key],
      ),
    );
  return markup`<table class="plain counts"><caption>Reviews the officials asked for</caption><tbody>${[
    line("asked", "asked for"),
    line("changed", "call changed"),
    line("decided", "decided what had not been called"),
  ]}</tbody></table>`;
}

function countLine(words: string, count: Content): Markup {
  return markup`<tr><th scope="row">${words}</th><td class="number">${count}</td></tr>`;
}
