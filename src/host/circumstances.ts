// What a tagging key needs to know of the bout at the frame on screen: the score, the period, the next card.

import type { Circumstances } from "../bout/tagging";
import type { Milliseconds } from "../bout/time";
import type { CardColour } from "../bout/words";
import { timeOf } from "../bout/written";
import { nextCost, type Study } from "../rules";

const conduct: readonly CardColour[] = ["yellow", "red", "black"];

export function circumstancesAt({ bout, edition, ledger }: Study, at: Milliseconds): Circumstances {
  const row = ledger.rows.findLast(({ entry }) => timeOf(entry) <= at);
  const { score, period, cards } = row?.state ?? ledger.start;
  const { steps, formats } = edition.unwillingness;
  return {
    score,
    period,
    nextCard: (side) => nextCost(edition, cards[side]).card,
    cards: formats.includes(bout.about.format) ? [...conduct, ...steps] : conduct,
  };
}
