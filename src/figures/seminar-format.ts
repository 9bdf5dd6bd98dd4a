// What a seminar pack's key and a reader's answers look like as files. Both the command and the page in the browser
// write and read them, so nothing here knows Node or the DOM. How they are read, and refused: seminar-reading.ts.

import { sha256 } from "@noble/hashes/sha2.js";
import { bytesToHex, utf8ToBytes } from "@noble/hashes/utils.js";
import * as z from "zod";
import { actionWords, cardColours, doers, type ActionWords } from "../bout/words";

/** Why the referee stopped the phrase, in the words of a bout file's `because` where it has one. */
export const haltReasons = [
  "touch",
  "off-target",
  "simultaneous",
  "undecided",
  "early start",
  "balance",
  "lifted",
  "loose chair or lead",
  "time",
  "equipment",
  "other",
] as const;
export type HaltReason = (typeof haltReasons)[number];

export const openers = ["left", "right", "both", "nobody"] as const;
export const hitJudgements = ["valid", "off-target", "not valid", "none"] as const;
export const awardsGiven = ["left", "right", "both", "none"] as const;
export const cardGroups = [1, 2, 3, 4] as const;
export const sureness = [1, 2, 3, 4] as const;
export const ways = ["live", "monitor"] as const;
/** as live: once, at speed, in a fixed time; at the monitor: at most four showings, at any speed (FIE t.62.1). */
export type Way = (typeof ways)[number];
export const papers = ["referee", "assistants"] as const;
/** Whose questions a clip asks: the referee's, or those of the assistants beside the chairs. */
export type Paper = (typeof papers)[number];

/** A monitor shows an action at most this often (FIE t.62.1, August 2026). */
export const mostShowings = 4;

const part = <T extends z.ZodType>(schema: T, says: string) => schema.nullable().describe(says);

const hitSchema = z
  .strictObject({
    left: part(z.enum(hitJudgements), "The left fencer's hit."),
    right: part(z.enum(hitJudgements), "The right fencer's hit."),
  })
  .describe("What became of each side's hit. none: that side did not arrive.");

const cardSchema = z.strictObject({
  to: z.enum(doers).describe("Who gets it."),
  card: z.enum(cardColours),
  group: z
    .literal(cardGroups)
    .nullable()
    .describe("The group of the offence; null for a P-card or not said."),
});

const assistantsSchema = z
  .strictObject({
    lifting: part(z.enum(awardsGiven), "Who lifted from the seat."),
    feet: part(z.enum(awardsGiven), "Whose feet left the footrest or touched the ground."),
    earlyStart: part(z.enum(awardsGiven), "Who started before the command."),
    looseChair: part(z.enum(awardsGiven), "Whose chair or lead came loose."),
  })
  .describe("What the assistants saw; none: nobody did.");

/** Every part may be null: not answered. `card` is null where not answered and "none" where no card is due. */
export const answerSchema = z.strictObject({
  why: part(z.enum(haltReasons), "Why the phrase was halted."),
  opener: part(z.enum(openers), "Who opened the phrase."),
  actions: part(
    z.array(z.enum(actionWords as readonly [ActionWords, ...ActionWords[]])).max(20),
    "The actions in order, as a bout file writes them.",
  ),
  hit: part(hitSchema, "Whether each hit is valid."),
  award: part(z.enum(awardsGiven), "Who has the touch."),
  card: part(z.union([z.literal("none"), cardSchema]), 'The card, "none" for no card.'),
  sure: part(z.literal(sureness), "How sure, from 1 (guessing) to 4 (certain)."),
  assistants: assistantsSchema.optional(),
});
export type Answer = z.infer<typeof answerSchema>;
export type AssistantsAnswer = z.infer<typeof assistantsSchema>;
export type CardAnswer = z.infer<typeof cardSchema>;

const hex = (digits: number) => z.string().regex(new RegExp(`^[0-9a-f]{${digits}}$`));
/** A name that people give themselves, never a place on a disk: it may become part of a file's name. */
export const nameProblem = (name: string): string | undefined => {
  if (name.trim() === "") return "it is empty";
  if (name.length > 60) return "it is longer than 60 characters";
  if (/[/\\:*?"<>|]/.test(name)) return 'it has one of the characters / \\ : * ? " < > |';
  if (/\p{Cc}|\p{Bidi_Control}/u.test(name)) return "it has characters that can't be seen";
  if (/^\.|\.$/.test(name.trim())) return "it begins or ends with a dot";
  return undefined;
};
const personName = z.string().refine((name) => nameProblem(name) === undefined, {
  error: (issue) => `the name is not one that can be used: ${nameProblem(String(issue.input)) ?? ""}`,
});

const when = z.iso.datetime().describe("A time as ISO 8601, in UTC.");
export const clipIdSchema = hex(8).describe("The clip's name in the pack; it has no meaning.");

const evidenceSchema = z
  .strictObject({
    kind: z.literal("phrase"),
    at: z.string().describe("The phrase's start, as written."),
    nth: z.int().min(0).describe("Which of several phrases of that start, from 0."),
  })
  .describe("The phrase behind the clip.");

export const keyClipSchema = z.strictObject({
  id: clipIdSchema,
  file: z
    .string()
    .regex(/^clips\/[0-9a-f]{8}\.mp4$/)
    .describe("The clip, from the pack's folder."),
  repeats: clipIdSchema.nullable().describe("The clip this one shows again, unannounced."),
  paper: z.enum(papers),
  source: z.strictObject({
    bout: z.string().describe("The bout file, by name."),
    hash: hex(64).describe("SHA-256 of the bout file when the pack was made."),
    phrase: evidenceSchema,
  }),
  standing: z
    .enum(["scored", "for discussion"])
    .describe("for discussion: the panel does not agree, or has not answered; the clip is not scored."),
  reference: answerSchema.nullable().describe("What counts as right, part by part; null: nothing does."),
  panel: z
    .array(z.strictObject({ by: personName, answer: answerSchema }))
    .describe("What each named role holds."),
});
export type KeyClip = z.infer<typeof keyClipSchema>;

export const keySchema = z
  .strictObject({
    key: z.literal(1),
    pack: hex(32).describe("The pack's own number; answers name it."),
    title: z.string(),
    made: when,
    ways: z.array(z.enum(ways)).min(1),
    hideLamps: z.boolean().describe("true: the lamps are masked too, a drill."),
    reveal: z.enum(["never", "after each"]),
    answerSeconds: z.number().positive().describe("Time to answer as live, in seconds after the clip."),
    passMark: z.number().min(0).max(1).nullable(),
    seed: z.string(),
    clips: z.array(keyClipSchema).min(1),
  })
  .superRefine(({ clips }, context) => {
    const ids = new Set(clips.map(({ id }) => id));
    if (ids.size < clips.length) context.addIssue("two clips have the same id");
    for (const { id, repeats } of clips)
      if (repeats !== null && (repeats === id || !ids.has(repeats)))
        context.addIssue(`clip ${id} repeats ${repeats}, which is not another clip of the key`);
  });
export type SeminarKey = z.infer<typeof keySchema>;

export const answersItemSchema = z.strictObject({
  clip: clipIdSchema,
  at: when.nullable().describe("When it was first shown; null: never."),
  showings: z.int().min(0).describe("How often it was shown, in full or in part."),
  seconds: z
    .number()
    .min(0)
    .nullable()
    .describe("From the end of the first showing to the answer, in seconds."),
  answer: answerSchema.nullable().describe("null: not answered."),
});
export type AnswersItem = z.infer<typeof answersItemSchema>;

export const answersSchema = z
  .strictObject({
    answers: z.literal(1),
    pack: hex(32),
    reader: personName.describe("Who answered."),
    role: personName.optional().describe("In a reference round: the role that answers, e.g. head referee."),
    way: z.enum(ways),
    started: when,
    finished: when.nullable(),
    items: z.array(answersItemSchema),
    check: hex(64).describe("SHA-256 of the rest, to notice changes by hand."),
  })
  .superRefine(({ items }, context) => {
    if (new Set(items.map(({ clip }) => clip)).size < items.length)
      context.addIssue("a clip is answered twice");
  });
export type SeminarAnswers = z.infer<typeof answersSchema>;
export type UncheckedAnswers = Omit<SeminarAnswers, "check">;

/** JSON with the keys of every object in order of their UTF-16 units and no blanks, so that equal values are equal texts. */
export function canonicalJson(value: unknown): string {
  if (Array.isArray(value)) return `[${value.map(canonicalJson).join(",")}]`;
  if (typeof value === "object" && value !== null) {
    const fields = Object.entries(value)
      .filter(([, field]) => field !== undefined)
      .sort(([one], [other]) => (one < other ? -1 : 1));
    return `{${fields.map(([name, field]) => `${JSON.stringify(name)}:${canonicalJson(field)}`).join(",")}}`;
  }
  return JSON.stringify(value);
}

/** SHA-256 of a text's UTF-8 bytes, in hexadecimal. */
export function sha256Hex(text: string): string {
  return bytesToHex(sha256(utf8ToBytes(text)));
}

/**
 * The check of an answers file. It notices a slip with a text editor; it is no signature, since anybody can work it out.
 */
export function checkOf(answers: UncheckedAnswers): string {
  const { check: _, ...rest } = answers as SeminarAnswers;
  return sha256Hex(canonicalJson(rest));
}

export function withCheck(answers: UncheckedAnswers): SeminarAnswers {
  return { ...answers, check: checkOf(answers) };
}

/** An answer nobody has begun. */
export const emptyAnswer: Answer = {
  why: null,
  opener: null,
  actions: null,
  hit: null,
  award: null,
  card: null,
  sure: null,
};
