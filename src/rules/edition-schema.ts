// The shape of a rule edition: how long a bout is, what an offence costs, what a double touch and a lamp mean. An edition
// is data, so that the next one, or one a user supplies, needs no other code. Every fact names its article or source.

import * as z from "zod";
import { cardColours, formats, lamps, weapons, type CardColour } from "../bout/words";

const source = z.string().min(1).describe("Article, or publication, that says so.");
const unverified = z
  .string()
  .min(1)
  .optional()
  .describe("Why this still has to be looked up in the rule book in force. Left out: it was read there.");

const fact = <T extends z.ZodType>(value: T) => z.object({ value, source, unverified });
const count = fact(z.int().min(1).nullable());
const seconds = fact(z.number().positive().nullable());

const formatSchema = z
  .object({
    touches: count.describe("Touches that win the bout; null: no number of them does."),
    periods: count.describe("Periods before any extra minute; null: as many as you like."),
    periodSeconds: seconds.describe("Fencing time of a period, in seconds; null: no limit."),
    restSeconds: seconds.describe("Rest between periods, in seconds; null: there is none."),
    extraSeconds: seconds.describe("The extra minute, in seconds; null: there is none."),
    sabreBreak: count.describe(
      "At sabre the first period also ends at this many touches; null: it does not.",
    ),
    appeals: fact(z.int().min(0).nullable()).describe(
      "Video appeals a fencer has at the start; null: no rule.",
    ),
    decidingDouble: fact(z.enum(["counts", "does not count"])).describe(
      "Épée: a double touch when one touch would decide the bout for either side.",
    ),
  })
  .describe("How long a bout of this format is.");

export const groupNumbers = [1, 2, 3, 4] as const;
export type GroupNumber = (typeof groupNumbers)[number];

const plainCards = ["yellow", "red", "black"] as const satisfies readonly CardColour[];
const groupSchema = z
  .object({
    first: z.enum(plainCards).describe("The card for a first offence of the group."),
    again: z.enum(plainCards).describe("The card for every further one."),
    repeats: z
      .enum(["card held", "offence of the group"])
      .describe(
        "What makes an offence a further one: any card already held, or an earlier offence of this group.",
      ),
    source,
    unverified,
  })
  .describe("What an offence of this group costs.");

const offenceSchema = z.object({
  name: z.string().min(1).describe("The offence in plain words, as written in a card's `for`."),
  number: z.string().optional().describe("Its number in the table of offences."),
  group: z.literal(groupNumbers),
  annuls: z.boolean().describe("A touch just scored by the offender is annulled."),
  weapons: z.array(z.enum(weapons)).optional().describe("Left out: at all weapons."),
  mayExclude: z
    .boolean()
    .optional()
    .describe("true: the referee may show black at once, whatever the group asks for first."),
  standing: z.boolean().optional().describe("true: can only happen to fencers on their feet."),
  offPiste: z.boolean().optional().describe("true: by a person off the piste, so no card of the fencer's."),
  source,
  unverified,
});

const unwillingnessSchema = z
  .object({
    steps: z.array(z.enum(cardColours)).min(1).describe("The cards, one for each minute without a hit."),
    seconds: z.number().positive().describe("Fencing time without a hit that brings the next card."),
    formats: z.array(z.enum(formats)).describe("The formats it applies to."),
    neverWhenOneTouchDecides: z
      .boolean()
      .describe("true: not while both are one touch from the end, as at 14:14."),
    source,
    unverified,
  })
  .describe("Cards for unwillingness to fight. They are kept apart from the others.");

const doubleSchema = fact(z.enum(["one each", "one at most"])).describe(
  "A phrase with both lamps: a touch each, or at most one touch.",
);
const lampMeaning = fact(z.string().min(1).nullable()).describe("What the lamp says; null: no such lamp.");

const everyLamp = Object.fromEntries(lamps.map((lamp) => [lamp, lampMeaning])) as Record<
  (typeof lamps)[number],
  typeof lampMeaning
>;
const everyFormat = Object.fromEntries(formats.map((format) => [format, formatSchema])) as Record<
  (typeof formats)[number],
  typeof formatSchema
>;
const perWeapon = <T extends z.ZodType>(schema: T) => z.object({ foil: schema, epee: schema, sabre: schema });

const reviewsSchema = z
  .object({
    atLevelScore: fact(z.boolean()).describe(
      "true: at a touch that decides the bout from a level score the referee looks at the video first.",
    ),
    onceForAnAction: fact(z.boolean()).describe("true: no action is looked at twice."),
  })
  .describe("Video reviews.");

const breaksSchema = z
  .object({
    medicalSeconds: seconds.describe("The longest break for an injury, in seconds; null: no rule."),
    chairRepairSeconds: seconds.describe(
      "The longest break to repair a chair, in seconds; null: no chairs, or no rule.",
    ),
  })
  .describe("How long a bout may be interrupted.");

export const editionId = /^[a-z0-9]+(-[a-z0-9]+)*$/;

export const editionSchema = z.object({
  id: z
    .string()
    .regex(editionId, { error: "a name in small letters, digits and hyphens, for example harbour-2026" })
    .describe("The name a bout file writes in rules, also the name of the file."),
  title: z.string().min(1).describe("The edition's name for people."),
  extends: z.string().optional().describe("The edition it builds on: what is left out here is as there."),
  source,
  from: fact(z.iso.date()).describe("The first day it was in force, YYYY-MM-DD."),
  seated: fact(z.boolean()).describe("true: for fencers in chairs fixed to a frame."),
  formats: z.object(everyFormat),
  groups: z.object({ 1: groupSchema, 2: groupSchema, 3: groupSchema, 4: groupSchema }),
  offences: z.array(offenceSchema),
  unwillingness: unwillingnessSchema,
  reviews: reviewsSchema,
  extraMinuteDraw: fact(z.boolean()).describe("true: lots for priority are drawn before the extra minute."),
  annulment: fact(z.boolean()).describe(
    "true: an offence that annuls takes away the touch its offender just scored.",
  ),
  breaks: breaksSchema,
  doubles: perWeapon(doubleSchema),
  lamps: perWeapon(z.object(everyLamp)),
});

export type Edition = z.output<typeof editionSchema>;
export type FormatRules = Edition["formats"]["pool"];
export type Offence = z.output<typeof offenceSchema>;

/** What is known of where a fact comes from. */
export interface Origin {
  readonly source: string;
  readonly unverified?: string | undefined;
}

const changedFormat = formatSchema.partial();

/** An edition that names only what it says differently from the one it extends. Offences add up by name. */
export const editionChangesSchema = editionSchema
  .omit({ formats: true, groups: true, offences: true, extends: true })
  .partial()
  .extend({
    id: editionSchema.shape.id,
    title: editionSchema.shape.title,
    source,
    extends: z.string().describe("The edition it builds on: what is left out here is as there."),
    formats: z
      .object({
        pool: changedFormat.optional(),
        elimination: changedFormat.optional(),
        veterans: changedFormat.optional(),
        training: changedFormat.optional(),
      })
      .optional()
      .describe("What is different in a format, fact by fact."),
    groups: editionSchema.shape.groups
      .partial()
      .optional()
      .describe("Groups of offences that cost something else."),
    offences: z
      .array(offenceSchema)
      .optional()
      .describe("Offences that are new, or replace the one of the same name."),
  });
export type EditionChanges = z.output<typeof editionChangesSchema>;
