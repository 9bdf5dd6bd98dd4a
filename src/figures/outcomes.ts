// How did a phrase end, as one side sees it? Exactly one outcome for every closed phrase.

import { opponent, sides, type Side } from "../bout/words";
import { hasTouch, lampLit, type PhraseRow } from "../rules";

export const outcomes = [
  "for",
  "against",
  "each",
  "both lamps",
  "off target",
  "missed",
  "parried",
  "halted",
  "not given",
  "not told",
  "not called",
] as const;
export type Outcome = (typeof outcomes)[number];

/** What each outcome means; the first that fits a phrase, read from the top, is its outcome. Shown with the table. */
export const outcomeDefinitions: readonly {
  readonly outcome: Outcome;
  readonly title: string;
  readonly means: string;
}[] = [
  { outcome: "for", title: "touch for", means: "the touch stands, for this side alone" },
  { outcome: "against", title: "touch against", means: "the touch stands, for the other side alone" },
  { outcome: "each", title: "touch each", means: "a touch stands for both sides" },
  { outcome: "not called", title: "not called", means: "nothing has been called, or the call still waits" },
  {
    outcome: "halted",
    title: "halted",
    means:
      "the touch was annulled, or the phrase was stopped for an early start, balance, lifting, a loose chair or lead, time or equipment",
  },
  {
    outcome: "both lamps",
    title: "both lamps, nothing",
    means:
      "no touch, with a valid lamp on both sides or called simultaneous, undecided or a double at the deciding touch",
  },
  {
    outcome: "off target",
    title: "off target",
    means: "no touch, with an off-target lamp or called off target",
  },
  { outcome: "not given", title: "lamp not given", means: "no touch, though one side had a valid lamp" },
  { outcome: "parried", title: "parried, no touch", means: "no touch and no lamp, and a parry was seen" },
  { outcome: "missed", title: "missed or no lamp", means: "no touch and no lamp, and no parry was seen" },
  {
    outcome: "not told",
    title: "not told",
    means: "no touch, and the file says neither why nor which lamps were lit",
  },
];

/** How the phrase ended for this side. */
export function outcomeOf(row: PhraseRow, side: Side): Outcome {
  const { stands } = row.phrase;
  if (stands === null) return "not called";
  const own = hasTouch(stands, side);
  const other = hasTouch(stands, opponent(side));
  if (own) return other ? "each" : "for";
  return other ? "against" : withoutTouch(row);
}

/** The outcome of a phrase in which no touch stands; the same for both sides. */
function withoutTouch({ entry, phrase }: PhraseRow): Outcome {
  const { because, annulled, award, lamps, actions } = entry;
  if (annulled !== undefined && award !== "none") return "halted";
  switch (because) {
    case "early start":
    case "balance":
    case "lifted":
    case "loose chair or lead":
    case "time":
    case "equipment":
      return "halted";
    case "simultaneous":
    case "undecided":
    case "double at the deciding touch":
      return "both lamps";
    default:
      break;
  }
  if (phrase.bothLamps) return "both lamps";
  if (because === "off-target" || sides.some((side) => lampLit(entry, side, "off-target") === true))
    return "off target";
  if (sides.some((side) => lampLit(entry, side, "valid") === true)) return "not given";
  if (actions?.some((words) => words.endsWith("parry")) === true) return "parried";
  if (because === "no lamp") return "missed";
  return lamps === undefined || because === "unseen" ? "not told" : "missed";
}
