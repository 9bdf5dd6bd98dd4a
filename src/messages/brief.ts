// What the panel with a brief and the host say to each other. The host makes the page and keeps the plan's file; the panel
// shows both, sends on what the coach writes, and asks for phrases to be played.

import * as z from "zod";

/** Which brief a panel shows; kept by the page for the next start of the editor. */
export const briefSubject = z.object({ fencer: z.string().min(1), against: z.string().min(1).optional() });
export type BriefSubject = z.output<typeof briefSubject>;

/** To the panel. */
export const toBrief = z.discriminatedUnion("type", [
  /** The page, as HTML, above the plan and below it. `made` names the brief it was made from. */
  z.object({
    type: z.literal("page"),
    made: z.number(),
    top: z.string(),
    rest: z.string(),
    subject: briefSubject,
    /** False where there is no brief, so nothing to plan from. */
    plan: z.boolean(),
  }),
  /** Files are being read. */
  z.object({ type: z.literal("reading"), done: z.number(), of: z.number() }),
  /** The plan as its file has it: each thing's words, and what stands under them as HTML. `problem`: why the file can't be
   * used, empty where it can. */
  z.object({
    type: z.literal("plan"),
    file: z.string(),
    things: z.array(z.object({ words: z.string(), notes: z.string() })),
    problem: z.string(),
  }),
  /** These words are in the file now. */
  z.object({ type: z.literal("kept"), thing: z.int(), words: z.string() }),
  /** They are not: the file says something else there by now, or can't be written. */
  z.object({ type: z.literal("not kept"), thing: z.int(), theirs: z.string().nullable(), why: z.string() }),
  /** What is being played; null once nothing is. */
  z.object({
    type: z.literal("playing"),
    now: z
      .object({
        title: z.string(),
        /** Where in the row of bouts: "bout 2 of 5: …". */
        place: z.string(),
        /** What was passed over, and why. */
        notes: z.array(z.string()),
        previous: z.boolean(),
        next: z.boolean(),
        /** The row has come to its end. */
        over: z.boolean(),
      })
      .nullable(),
  }),
  /** The figure asked for was of an older page: ask again for the one of this name. */
  z.object({ type: z.literal("again"), key: z.string() }),
  z.object({ type: z.literal("say"), message: z.string() }),
]);
export type ToBrief = z.output<typeof toBrief>;

const thing = z.int().min(0).max(2);
/** A figure of the page of that name, and what it plays as the page has it written. */
const figure = z.object({
  key: z.string(),
  title: z.string(),
  evidence: z.string(),
  made: z.number(),
});
export type FigureAsked = z.output<typeof figure>;

/** To the host. */
export const fromBrief = z.discriminatedUnion("type", [
  /** The page listens: it was opened, or shown again. */
  z.object({ type: z.literal("ready") }),
  z.object({ type: z.literal("play"), figure }),
  /** What the coach has written so far. `base`: the words that were there before. `offer`: the figure of the suggestion it
   * was written beside, to be tied. */
  z.object({
    type: z.literal("words"),
    thing,
    words: z.string(),
    base: z.string(),
    offer: figure.optional(),
  }),
  /** Ties what is being played. */
  z.object({ type: z.literal("tie"), thing }),
  z.object({ type: z.literal("untie"), thing, about: z.string() }),
  z.object({ type: z.literal("walk"), go: z.enum(["previous", "next", "stop"]) }),
  z.object({ type: z.literal("save") }),
  z.object({ type: z.literal("stop reading") }),
  z.object({ type: z.literal("read again") }),
  z.object({ type: z.literal("open plan") }),
]);
export type FromBrief = z.output<typeof fromBrief>;
