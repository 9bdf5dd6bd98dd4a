// The shape of a bout file. The descriptions become the editor's hover texts, so they speak to a coach.

import * as z from "zod";
import { parseTime, timePattern, type Milliseconds } from "./time";
import {
  actionWords,
  awards,
  cardColours,
  doers,
  endings,
  formats,
  lamps,
  periodNumbers,
  reasonsForAnnulment,
  reasonsForNone,
  reviewers,
  reviewResults,
  scoringActions,
  sides,
  stoppers,
  stopReasons,
  weapons,
} from "./words";

const time = (says: string) =>
  z
    .string()
    .regex(timePattern, { error: "a time is written h:mm:ss.mmm, for example 0:04:12.480" })
    .transform((text) => parseTime(text) as Milliseconds)
    .describe(`${says} Time in the first recording, h:mm:ss.mmm, 0 at its first frame.`);

const side = (says: string) => z.enum(sides).describe(says);
const doer = (says: string) => z.enum(doers).describe(says);
const text = (says: string) => z.string().describe(says);

const score = z
  .tuple([z.int().min(0), z.int().min(0)])
  .describe("Score as [left, right], the referee's left first.");

const actionList = z.array(z.enum(actionWords));
const cardsHeld = z
  .object({
    left: z.array(z.enum(cardColours)).optional().describe("Cards the left fencer holds."),
    right: z.array(z.enum(cardColours)).optional().describe("Cards the right fencer holds."),
  })
  .describe("Cards held after this, as far as known.");
const appealsLeft = z
  .tuple([z.int().min(0), z.int().min(0)])
  .describe("Video appeals still left after this, as [left, right].");
const lamp = z
  .union([z.enum(lamps), z.array(z.enum(lamps))])
  .describe(
    "valid: the coloured lamp. off-target: the white lamp. fault: the apparatus reported a fault. A list when more than one was lit.",
  );
const lampsLit = z
  .object({
    left: lamp.optional().describe("Lamps that say the left fencer hit."),
    right: lamp.optional().describe("Lamps that say the right fencer hit."),
  })
  .describe("Lamps lit, by the fencer who hit. {} means none lit; leave out when not recorded.");

const imagePoint = z
  .tuple([z.number(), z.number()])
  .describe("A point in the picture: fractions of its width (from the left) and height (from the top).");
const floorPoint = z
  .tuple([z.number(), z.number()])
  .describe(
    "A point on the floor in metres: along the piste (+ towards the right end, 0 at the centre), across (+ from the referee's side towards the apparatus).",
  );
const corners = z
  .tuple([imagePoint, imagePoint])
  .describe("Both corners of the platform's near long edge, the inner one first.");

const confirmed = z
  .boolean()
  .optional()
  .describe("true: this is what really happened. Findings about this entry become notes.");

const entry = <Kind extends string, Shape extends z.ZodRawShape>(kind: Kind, says: string, shape: Shape) =>
  z.object({ kind: z.literal(kind).describe(says), ...shape, confirmed }).describe(says);

export const phraseSchema = entry("phrase", "A phrase: from the command to fence to the command to stop.", {
  start: time("The command to fence."),
  halt: time("The command to stop. Leave out while the phrase is open.").optional(),
  play: z
    .boolean()
    .optional()
    .describe("false: no command to fence was given (an early start), so no fencing time counts."),
  actions: actionList
    .optional()
    .describe('What the tagger saw, in order, each as "left attack", "right parry", "both attack".'),
  call: actionList.optional().describe("The phrase as the referee told it, in the same words as actions."),
  reference: z
    .array(
      z.object({
        by: text("Who on the panel holds this."),
        actions: actionList.optional().describe("The phrase as this person holds it."),
        award: z.enum(awards).optional().describe("The touch as this person gives it."),
      }),
    )
    .optional()
    .describe("What a panel holds, for training clips."),
  lamps: lampsLit.optional(),
  award: z
    .enum(awards)
    .optional()
    .describe("The touch as first announced, named by the fencer who scored. pending: the review decides."),
  because: z.enum(reasonsForNone).optional().describe("Why no touch was given."),
  annulled: doer("Takes the announced touch of this side away again.").optional(),
  for: z.enum(reasonsForAnnulment).optional().describe("Why the touch was annulled."),
  target: text("Where it landed, for example flank, chest, arm, mask.").optional(),
  scored: z
    .enum(scoringActions)
    .optional()
    .describe("The action that scored, where it is not the side's last action that can score."),
  tags: z.array(z.string()).optional().describe("Words of your own."),
  sure: z.boolean().optional().describe("false: you are not sure of this phrase."),
  star: z.boolean().optional().describe("true: a phrase to come back to."),
  note: text("Anything worth saying about this phrase.").optional(),
});

export const reviewSchema = entry("review", "A video review of the phrase before it.", {
  at: time("When the review was asked for."),
  by: z.enum(reviewers).describe("Who asked. level score: the rule asks at a deciding touch."),
  result: z
    .enum(reviewResults)
    .describe("changed, kept, decided (nothing had been called before), or no picture to judge by."),
  award: z.enum(awards).exclude(["pending"]).optional().describe("The touch that stands after the review."),
  call: actionList.optional().describe("The phrase as told again after the review."),
  appeal: z.enum(["kept", "lost"]).optional().describe("What the board then showed for the appeal."),
});

export const cardSchema = entry(
  "card",
  "A card. The touch of a red card is added by Boutline, not written.",
  {
    at: time("When the card was shown."),
    to: doer("Who got it."),
    card: z.enum(cardColours).describe("The card. P-cards are for unwillingness to fight."),
    for: text("The offence, in the rule edition's words or your own.").optional(),
    group: z
      .int()
      .min(1)
      .max(4)
      .optional()
      .describe("The offence's group, 1 to 4, where the words are your own."),
  },
);

export const stopSchema = entry("stop", "The bout is stopped for something other than a touch.", {
  at: time("When it was stopped."),
  until: time("When it was over.").optional(),
  for: z
    .union([z.enum(stopReasons), z.array(z.enum(stopReasons)).min(1)])
    .describe(
      "One reason or a list. re-centre: chairs and platforms are set back. distance: the fencing distance is set.",
    ),
  by: z.enum(stoppers).optional().describe("Who asked for it."),
});

export const correctionSchema = entry("correction", "The officials set the score by hand.", {
  at: time("When they did."),
  score,
  for: text("Why.").optional(),
});

export const openingSchema = entry("opening", "The bout was already under way when the recording starts.", {
  at: time("Where the recording takes the bout up."),
  score,
  cards: cardsHeld.optional(),
  appeals: appealsLeft.optional(),
  period: z.literal(periodNumbers).optional().describe("The period under way."),
});

export const gapSchema = entry("gap", "A part of the bout that was not recorded, and the state after it.", {
  at: time("Where the gap begins."),
  until: time("Where it ends.").optional(),
  score,
  cards: cardsHeld.optional(),
  appeals: appealsLeft.optional(),
  period: z.literal(periodNumbers).optional().describe("The period under way after the gap."),
});

export const periodSchema = entry("period", "A new period begins. Period 1 needs no entry.", {
  at: time("When it begins."),
  number: z.literal(periodNumbers).describe('1, 2, 3, or "extra" for the extra minute.'),
});

export const drawSchema = entry("draw", "The drawing of lots for priority, before the extra minute.", {
  at: time("When lots were drawn."),
  to: side("The side that wins if nobody hits.").optional(),
});

export const endSchema = entry("end", "The end of the bout.", {
  at: time("When it ended."),
  by: z.enum(endings).describe("How it ended."),
  winner: side("Who won.").optional(),
});

export const boardSchema = entry(
  "board",
  "What the scoreboard showed. It is compared with the score, never taken as it.",
  {
    at: time("When it showed this."),
    score,
    clock: text("The clock as shown, for example 2:41.").optional(),
  },
);

export const shotSchema = entry("shot", "The camera picture from here on.", {
  at: time("From when."),
  name: text("main, close, replay, or a name of your own. Times inside a replay are never a phrase's own."),
});

export const fitSchema = entry("fit", "Ties the picture to the floor, until the next fit of the same shot.", {
  at: time("The frame in which the points were placed."),
  points: z
    .array(
      z.object({
        image: imagePoint,
        floor: floorPoint,
      }),
    )
    .min(2)
    .describe(
      "Known floor points. Four or more give the whole floor; two give a scale along the piste only.",
    ),
});

export const platformsSchema = entry("platforms", "Where the platforms stand, at a still moment.", {
  at: time("The frame in which the corners were placed."),
  left: corners
    .optional()
    .describe("The left fencer's platform: both corners of its near long edge, inner first."),
  right: corners
    .optional()
    .describe("The right fencer's platform: both corners of its near long edge, inner first."),
});

export const distanceSchema = entry("distance", "The fencing distance is being set.", {
  at: time("When."),
  reference: side("Whose arm is the measure.").optional(),
  to: z.enum(["inner elbow", "elbow point"]).optional().describe("Where the point has to reach."),
  change: z.number().optional().describe("By how many notches the bar was moved, if known."),
});

export const noteSchema = entry("note", "Free text at a time.", {
  at: time("When."),
  text: text("What you want to remember.").optional(),
});

export const entrySchemas = {
  phrase: phraseSchema,
  review: reviewSchema,
  card: cardSchema,
  stop: stopSchema,
  board: boardSchema,
  correction: correctionSchema,
  opening: openingSchema,
  gap: gapSchema,
  period: periodSchema,
  draw: drawSchema,
  end: endSchema,
  shot: shotSchema,
  fit: fitSchema,
  platforms: platformsSchema,
  distance: distanceSchema,
  note: noteSchema,
} as const;
export type Kind = keyof typeof entrySchemas;
export const kinds = Object.keys(entrySchemas) as Kind[];

export const entrySchema = z.discriminatedUnion("kind", [
  phraseSchema,
  reviewSchema,
  cardSchema,
  stopSchema,
  boardSchema,
  correctionSchema,
  openingSchema,
  gapSchema,
  periodSchema,
  drawSchema,
  endSchema,
  shotSchema,
  fitSchema,
  platformsSchema,
  distanceSchema,
  noteSchema,
]);

export const aboutSchema = z
  .object({
    title: text("A line that names the bout.").optional(),
    event: text("The competition.").optional(),
    round: text("The round, for example pool 2 or quarter-final.").optional(),
    date: z
      .string()
      .regex(/^\d{4}-\d{2}-\d{2}$/, { error: "a date is written YYYY-MM-DD" })
      .optional()
      .describe("The day of the bout, YYYY-MM-DD."),
    weapon: z.enum(weapons).describe("foil, epee or sabre."),
    format: z.enum(formats).describe("pool, elimination, veterans or training: how long the bout is."),
    rules: text("The rule edition in force, for example wheelchair-2026."),
    video: z.boolean().optional().describe("Whether video refereeing is in use. Leave out when unknown."),
    view: z
      .enum(["referee", "opposite"])
      .optional()
      .describe(
        "Which side of the piste the main camera is on: the referee's (default) or the opposite one.",
      ),
  })
  .describe("The bout itself.");

const fencer = (says: string) =>
  z
    .object({
      id: text("A short code that stays the same from bout to bout.").optional(),
      name: text("The fencer's name."),
      club: text("Club or team.").optional(),
      hand: z.enum(["left", "right"]).optional().describe("The weapon hand."),
      category: text(
        "Sport class, for example A, B or C. This is health data: handle it with care.",
      ).optional(),
      seed: z.int().min(1).optional().describe("Place in the ranking before the event."),
    })
    .describe(says);

export const fencersSchema = z
  .object({
    left: fencer("The fencer on the referee's left, on the red lamp's side."),
    right: fencer("The fencer on the referee's right, on the green lamp's side."),
  })
  .describe("Both fencers, as the referee sees them.");

export const recordingSchema = z
  .object({
    file: text("The recording, as a path from this file, with / between folders."),
    offset: z
      .number()
      .optional()
      .describe("Seconds to add to this recording's time to get time in the first recording."),
    view: z.enum(["referee", "opposite"]).optional().describe("Which side of the piste this camera is on."),
  })
  .describe("A recording of the bout. The first one sets the clock.");

export const taggedSchema = z
  .object({
    by: text("Who tagged the bout.").optional(),
    on: text("When, for example 2026-10-18.").optional(),
  })
  .describe("Who tagged this file, and when.");

export const boutFileSchema = z
  .object({
    $schema: z.string().optional().describe("Accepted and ignored."),
    boutline: z.int().min(1).describe("Version of this format: 1."),
    bout: aboutSchema,
    fencers: fencersSchema,
    recordings: z
      .array(recordingSchema)
      .optional()
      .describe("The recordings; may be empty for notes taken live."),
    tagged: taggedSchema.optional(),
    log: z.array(entrySchema).describe("What happened, in time order; one line of text an entry."),
  })
  .describe("A bout file of Boutline.");

export type Entry = z.output<typeof entrySchema>;
export type EntryOf<K extends Kind> = Extract<Entry, { kind: K }>;
export type Phrase = EntryOf<"phrase">;
export type About = z.output<typeof aboutSchema>;
export type Fencers = z.output<typeof fencersSchema>;
export type Recording = z.output<typeof recordingSchema>;
export type Tagged = z.output<typeof taggedSchema>;

/** The entry as it stands in the file: times as text, fields the schema doesn't know included. */
export type WrittenEntry = Readonly<Record<string, unknown>> & { readonly kind: string };

/** The order in which the fields of a kind are written; none for a kind the schema doesn't know. */
export function fieldOrder(kind: string): readonly string[] {
  return fieldOrders.get(kind) ?? [];
}
const fieldOrders = new Map(kinds.map((kind) => [kind as string, Object.keys(entrySchemas[kind].shape)]));
