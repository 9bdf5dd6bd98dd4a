// What the cards a fencer holds mean for the next one.

import type { CardColour } from "../bout/words";
import type { Edition, GroupNumber } from "./edition";

/** The cards for conduct, in rising order; P-cards are an account of their own (FIE t.124.3.e). */
const conduct: readonly CardColour[] = ["yellow", "red", "black"];

export interface Cost {
  readonly card: CardColour;
  /** Touches the opponent gets. */
  readonly touches: 0 | 1;
}

/** What the next offence of this group costs a fencer who holds these cards. `earlier`: offences of the group before. */
export function nextCost(
  edition: Edition,
  held: readonly CardColour[],
  group: GroupNumber = 1,
  earlier = 0,
): Cost {
  const rule = edition.groups[group];
  const further = rule.repeats === "card held" ? held.some((card) => conduct.includes(card)) : earlier > 0;
  const card = further ? rule.again : rule.first;
  return { card, touches: card === "red" ? 1 : 0 };
}

/** Touches the opponent gets for this card: one for a red (FIE t.162) and for a P-red (FIE t.124). */
export function touchesFor(card: CardColour): 0 | 1 {
  return card === "red" || card === "P-red" ? 1 : 0;
}
