// What the viewer shows of a bout: the text read, folded and put into words by the host, entry by entry.

import * as z from "zod";

const side = z.enum(["left", "right"]);
const doer = z.enum(["left", "right", "both"]);
const pair = z.tuple([z.number(), z.number()]);
const words = z.array(z.string());
export const jsonSchema: z.ZodType<Json> = z.lazy(() =>
  z.union([
    z.string(),
    z.number(),
    z.boolean(),
    z.null(),
    z.array(jsonSchema),
    z.record(z.string(), jsonSchema),
  ]),
);
export type Json = string | number | boolean | null | Json[] | { [key: string]: Json };

/** The state of the bout after an entry, for the ledger line. Appeals are null where no video is in use. */
export const standingSchema = z.object({
  score: pair,
  appeals: z.tuple([z.number().nullable(), z.number().nullable()]),
  /** Cards held, in the order they were given. */
  cards: z.tuple([words, words]),
  /** What the next group 1 offence costs each side, in words; empty where it is only a warning. */
  cost: z.tuple([z.string(), z.string()]),
  period: z.union([z.number(), z.literal("extra")]),
  /** Fencing time used in this period, in milliseconds. */
  fenced: z.number(),
});
export type Standing = z.output<typeof standingSchema>;

/** One log entry as the viewer shows it. Times are milliseconds in the first recording. */
export const itemSchema = z.object({
  /** Place in the file's log. */
  index: z.number(),
  kind: z.string(),
  at: z.number(),
  /** Halt of a phrase, end of a stop or gap; null while open or where there is none. */
  until: z.number().nullable(),
  /** Whose sign stands above or below the line: the side that has the touch, got the card, asked for the review or stop. */
  side: doer.nullable(),
  /** A word or two for the phrase line: "yellow", "kept", "re-centre", the number of the touch. */
  label: z.string(),
  /** The whole of it told in a sentence. */
  sentence: z.string(),
  /** Number of a phrase, from 1; null for other kinds. */
  number: z.number().nullable(),
  /** open: not halted yet; waiting: halted and not called; called; plain: not a phrase. */
  state: z.enum(["open", "waiting", "called", "plain"]),
  lamps: z.object({ left: words, right: words }).nullable(),
  actions: words,
  star: z.boolean(),
  unsure: z.boolean(),
  after: standingSchema,
  findings: z.array(z.object({ severity: z.enum(["error", "warning", "note"]), message: z.string() })),
  /** The entry's fields as written, for the detail strip; geometry left out. */
  fields: z.record(z.string(), jsonSchema),
});
export type Item = z.output<typeof itemSchema>;

/** What is not in the items: who fences, which words the rule edition offers, what is wrong with the text. */
export const headSchema = z.object({
  /** False where the text can't be read as a bout; the problems say why. */
  readable: z.boolean(),
  editable: z.boolean(),
  title: z.string(),
  weapon: z.enum(["foil", "epee", "sabre"]).nullable(),
  /** True where the main camera stands opposite the referee: the screen is mirrored for the user, the file never. */
  mirrored: z.boolean(),
  names: z.tuple([z.string(), z.string()]),
  offences: z.array(z.object({ name: z.string(), group: z.number() })),
  problems: z.array(
    z.object({
      severity: z.enum(["error", "warning", "note"]),
      message: z.string(),
      line: z.number(),
      column: z.number(),
    }),
  ),
  /** State before the first entry. */
  before: standingSchema,
  /** How far along the piste the platforms have crept since the last re-centre, in metres, at each pose. */
  drift: z.array(z.object({ at: z.number(), along: z.number(), broken: z.boolean() })),
  /** Poses of the platforms, for drawing over the picture: image points as fractions. */
  poses: z.array(z.object({ at: z.number(), side, points: z.array(pair) })),
  /** Where both platforms stood on the floor, in metres, stretch by stretch between re-centres. */
  tracks: z.array(
    z.object({
      end: z.enum(["re-centre", "distance", "fit", "refused", "end of the log"]),
      places: z.array(
        z.object({
          entry: z.number(),
          at: z.number(),
          phrases: z.number(),
          along: z.number(),
          error: z.number(),
          left: z.tuple([pair, pair]),
          right: z.tuple([pair, pair]),
        }),
      ),
    }),
  ),
  /** The points of each fit, with the shot it holds for. */
  fits: z.array(
    z.object({
      at: z.number(),
      shot: z.string(),
      points: z.array(z.object({ image: pair, floor: pair })),
    }),
  ),
});
export type Head = z.output<typeof headSchema>;

/** The scene of one document version: whole (`base` null), or as a splice of the items of version `base`. */
export const sceneSchema = z.object({
  type: z.literal("scene"),
  version: z.number(),
  base: z.number().nullable(),
  head: headSchema,
  splice: z.object({ start: z.number(), remove: z.number(), add: z.array(itemSchema) }),
});
export type Scene = z.output<typeof sceneSchema>;
