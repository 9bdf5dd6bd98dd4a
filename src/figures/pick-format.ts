// A pick: which phrases are meant, as plain data. Its parts narrow each other; a list inside a part widens it.

import * as z from "zod";
import {
  actions,
  cardColours,
  families,
  periodNumbers,
  reviewers,
  reviewResults,
  scoringActions,
  stopReasons,
  type Family,
} from "../bout/words";
import { phraseEvidenceSchema } from "./written-evidence";

/** Whose action: anybody's (no word), a side's, both sides' at once, or as the pick's fencer sees it. */
const doerWords = ["left", "right", "both", "own", "opponent"] as const;
type Told<Words extends string> = Words | `${(typeof doerWords)[number]} ${Words}`;

function told<Words extends string>(words: readonly Words[]): readonly Told<Words>[] {
  return [...words, ...doerWords.flatMap((doer) => words.map((word) => `${doer} ${word}` as const))];
}

const familyNames = Object.keys(families) as Family[];
export const pickActions = told(actions);
export const pickFamilies = told(familyNames);
export const pickScored = told([...scoringActions, "untagged"] as const);
export const pickOpeners = ["left", "right", "both", "nobody", "untagged", "own", "opponent"] as const;
export const pickAwards = ["left", "right", "both", "none", "waiting", "own", "opponent"] as const;
export const pickReviews = ["any", "none", ...reviewResults] as const;
export const pickReviewers = [...reviewers, "own", "opponent"] as const;
export const pickCards = ["any", ...cardColours] as const;
export const pickStops = ["any", ...stopReasons] as const;
export const pickSides = ["left", "right", "own", "opponent"] as const;

/** A phrase's number or a range of them, "3-7". */
const numbers = z.union([
  z.int().min(1),
  z
    .string()
    .regex(/^\d{1,6}-\d{1,6}$/, { error: 'a range of phrases is written "3-7"' })
    .refine(
      (range) => {
        const [from = 0, to = 0] = range.split("-").map(Number);
        return from >= 1 && from <= to;
      },
      { error: "a range of phrases begins at 1 or later and ends after its beginning" },
    ),
]);

const some = <Item extends z.ZodType>(item: Item, says: string) =>
  z
    .union([item, z.array(item).min(1)])
    .optional()
    .describe(`${says} One or a list of which any will do.`);

export const pickShape = {
  fencer: z
    .string()
    .min(1)
    .optional()
    .describe("Only bouts of this fencer, by id or name; own and opponent are as this fencer sees it."),
  actions: some(z.enum(pickActions), 'An action in the phrase: "riposte", "left riposte", "own riposte".'),
  families: some(z.enum(pickFamilies), 'A family of actions in the phrase: "renewal", "own renewal".'),
  scored: some(z.enum(pickScored), "The action that scored for whoever has the touch in the end."),
  scoredFamilies: some(z.enum(pickFamilies), "The family of the action that scored."),
  opener: some(z.enum(pickOpeners), "Who opened the phrase."),
  award: some(z.enum(pickAwards), "What stands in the end; waiting: not decided or not called."),
  bothLamps: z
    .boolean()
    .optional()
    .describe("true: a valid lamp on both sides; false: lamps recorded, and not on both sides."),
  review: some(z.enum(pickReviews), "How a video review of the phrase ended."),
  reviewBy: some(z.enum(pickReviewers), "Who asked for that review."),
  card: some(z.enum(pickCards), "A card shown after the phrase and before the next."),
  cardTo: some(z.enum(pickSides), "Who got that card."),
  stop: some(z.enum(pickStops), "A stop after the phrase and before the next."),
  periods: some(z.literal(periodNumbers), "The period."),
  targets: some(z.string().min(1), "Where it landed."),
  tags: some(z.string().min(1), "A word of your own."),
  star: z.boolean().optional().describe("true: phrases to come back to; false: the others."),
  unsure: z.boolean().optional().describe("true: phrases you are not sure of; false: the others."),
  phrases: z.array(phraseEvidenceSchema).min(1).optional().describe("Phrases picked by hand."),
  numbers: some(numbers, 'Numbers of phrases, from 1: 4, "7-12".'),
} as const;

/** Whether a word speaks of the pick's fencer. */
function ofFencer(value: unknown): boolean {
  return [value].flat().some((word) => typeof word === "string" && /^(own|opponent)( |$)/.test(word));
}

export const pickSchema = z
  .strictObject(pickShape)
  .refine(
    ({ fencer, targets: _, tags: __, ...rest }) =>
      fencer !== undefined || !Object.values(rest).some(ofFencer),
    { error: "own and opponent need a fencer to be named" },
  )
  .describe("Which phrases are picked. Parts narrow each other; {} picks every phrase.");
export type Pick = z.output<typeof pickSchema>;
export type PickPart = keyof Pick;
