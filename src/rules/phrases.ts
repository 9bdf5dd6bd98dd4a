// What a phrase says by itself: who opened it, whose touch it is, and by which action.

import type { Phrase } from "../bout/schema";
import {
  canScore,
  doneAction,
  sidesOf,
  type ActionWords,
  type Doer,
  type Lamp,
  type ScoringAction,
  type Side,
  type Standing,
} from "../bout/words";

/** The doer of the first action that can score; null without one. */
export function openerOf(actions: readonly ActionWords[] | undefined): Doer | null {
  if (actions !== undefined)
    for (const words of actions) {
      const { doer, action } = doneAction(words);
      if (canScore(action)) return doer;
    }
  return null;
}

/** The action that brought this side its touch: the one named outright, else its last one that can score. */
export function scoringActionOf(phrase: Phrase, side: Side): ScoringAction | "untagged" {
  if (phrase.scored !== undefined) return phrase.scored;
  const actions = phrase.actions ?? [];
  for (let index = actions.length - 1; index >= 0; index--) {
    const words = actions[index];
    if (words === undefined) continue;
    const { doer, action } = doneAction(words);
    if ((doer === side || doer === "both") && canScore(action)) return action;
  }
  return "untagged";
}

/** What is left of an award when the touches of `annulled` are taken away. */
export function without(award: Standing, annulled: Doer | undefined): Standing {
  if (annulled === undefined || award === "none") return award;
  if (annulled === "both" || annulled === award) return "none";
  if (award === "both") return annulled === "left" ? "right" : "left";
  return award;
}

export function hasTouch(award: Standing | null, side: Side): boolean {
  return award === side || award === "both";
}

/** Whether this lamp of this side was lit; undefined where lamps were not recorded. */
export function lampLit(phrase: Phrase, side: Side, lamp: Lamp): boolean | undefined {
  if (phrase.lamps === undefined) return undefined;
  const lit = phrase.lamps[side];
  return typeof lit === "string" ? lit === lamp : (lit?.includes(lamp) ?? false);
}

/** What was announced first, less what was annulled; null while nothing is decided. */
export function announced(phrase: Phrase): Standing | null {
  const { award } = phrase;
  return award === undefined || award === "pending" ? null : without(award, phrase.annulled);
}

/** What a review's award leaves standing. An annulment was spoken over the touch first announced; where that award
 * named another side, it can only mean the touch the review gave. */
export function afterReview(phrase: Phrase, award: Standing): Standing {
  const { annulled, award: first } = phrase;
  if (annulled === undefined) return award;
  let stands = award;
  for (const side of sidesOf(annulled))
    if (first !== side && first !== "both") stands = without(stands, side);
  return stands;
}
