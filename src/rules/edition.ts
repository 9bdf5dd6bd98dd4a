// What a rule edition says: how long a bout is, what an offence costs, what a double touch and a lamp mean. An edition
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
  offPiste: z.boolean().optional().describe("true: by a person off the piste, so no card of the fencer's."),
  source,
  unverified,
});

const unwillingnessSchema = z
  .object({
    steps: z.array(z.enum(cardColours)).min(1).describe("The cards, one for each minute without a hit."),
    seconds: z.number().positive().describe("Fencing time without a hit that brings the next card."),
    formats: z.array(z.enum(formats)).describe("The formats it applies to."),
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

export const editionSchema = z.object({
  id: z.string().regex(/^[a-z0-9]+(-[a-z0-9]+)*$/),
  title: z.string().min(1),
  extends: z.string().optional().describe("The edition it builds on: what is left out here is as there."),
  source,
  formats: z.object(everyFormat),
  groups: z.object({ 1: groupSchema, 2: groupSchema, 3: groupSchema, 4: groupSchema }),
  offences: z.array(offenceSchema),
  unwillingness: unwillingnessSchema,
  doubles: perWeapon(doubleSchema),
  decidingDouble: fact(z.enum(["counts", "does not count"])).describe(
    "Épée: a double touch when one touch would decide the bout for either side.",
  ),
  lamps: perWeapon(z.object(everyLamp)),
});

export type Edition = z.output<typeof editionSchema>;
export type FormatRules = Edition["formats"]["pool"];
export type Offence = z.output<typeof offenceSchema>;

/** An edition that names only what it says differently from the one it extends. Offences add up by name. */
export type EditionChanges = Pick<Edition, "id" | "title" | "source"> & {
  readonly extends: string;
  readonly formats?: { readonly [F in keyof Edition["formats"]]?: Partial<FormatRules> };
  readonly groups?: Partial<Edition["groups"]>;
  readonly offences?: readonly Offence[];
} & Partial<Pick<Edition, "unwillingness" | "doubles" | "decidingDouble" | "lamps">>;

/** The whole edition that `changes` makes of the one it extends. */
export function extendEdition(base: Edition, changes: EditionChanges): Edition {
  const names = new Set(changes.offences?.map((offence) => offence.name));
  const changedFormats = changes.formats ?? {};
  return {
    ...base,
    ...changes,
    formats: {
      pool: { ...base.formats.pool, ...changedFormats.pool },
      elimination: { ...base.formats.elimination, ...changedFormats.elimination },
      veterans: { ...base.formats.veterans, ...changedFormats.veterans },
      training: { ...base.formats.training, ...changedFormats.training },
    },
    groups: { ...base.groups, ...changes.groups },
    offences: [...base.offences.filter(({ name }) => !names.has(name)), ...(changes.offences ?? [])],
  };
}

/** The offence a card's `for` names, letter case aside. */
export function offenceNamed(edition: Edition, name: string | undefined): Offence | undefined {
  if (name === undefined) return undefined;
  const wanted = name.trim().toLowerCase();
  return edition.offences.find((offence) => offence.name === wanted);
}
