// Which fields of an entry can be written in the detail strip, what each one takes, and what typed text means.

import { timePattern } from "../../bout/time";
import {
  awards,
  cardColours,
  doers,
  endings,
  periodNumbers,
  reasonsForAnnulment,
  reasonsForNone,
  reviewers,
  reviewResults,
  scoringActions,
  sides,
  stoppers,
  stopReasons,
} from "../../bout/words";
import type { Json } from "../../messages/scene";

export type FieldValue = string | number | boolean | null | string[] | [number, number];

type Choice = string | number;

export type Takes =
  | { readonly as: "text"; readonly wide?: boolean; readonly offers?: "offences" | "shots" | "targets" }
  | { readonly as: "time" }
  | { readonly as: "number"; readonly least?: number; readonly most?: number }
  | { readonly as: "choice"; readonly choices: readonly Choice[]; readonly required?: boolean }
  /** Ticked writes `on`; unticked takes the field away. */
  | { readonly as: "tick"; readonly on: boolean }
  | { readonly as: "pair" }
  /** Words of one's own, separated by commas. */
  | { readonly as: "words" }
  /** One or more out of a list. */
  | { readonly as: "several"; readonly choices: readonly string[] };

export interface EntryField {
  readonly name: string;
  readonly words: string;
  readonly takes: Takes;
}

const field = (name: string, words: string, takes: Takes): EntryField => ({ name, words, takes });
const text = (name: string, words: string, wide = false): EntryField =>
  field(name, words, { as: "text", wide });
const choice = (name: string, words: string, choices: readonly Choice[], required = false): EntryField =>
  field(name, words, { as: "choice", choices, required });
const at = field("at", "at", { as: "time" });
const until = field("until", "until", { as: "time" });
const score = field("score", "score", { as: "pair" });
const confirmed = field("confirmed", "confirmed", { as: "tick", on: true });
const afterwards = [
  score,
  field("appeals", "appeals left", { as: "pair" }),
  choice("period", "period", periodNumbers),
];

const fieldsByKind: Readonly<Record<string, readonly EntryField[]>> = {
  phrase: [
    field("target", "target", { as: "text", offers: "targets" }),
    choice("award", "award", awards),
    choice("because", "because", reasonsForNone),
    choice("scored", "scored with", scoringActions),
    choice("annulled", "annulled", doers),
    choice("for", "annulled for", reasonsForAnnulment),
    field("tags", "tags", { as: "words" }),
    text("note", "note", true),
    field("start", "start", { as: "time" }),
    field("halt", "halt", { as: "time" }),
    field("star", "star", { as: "tick", on: true }),
    field("sure", "not sure", { as: "tick", on: false }),
    field("play", "no command given", { as: "tick", on: false }),
  ],
  review: [
    choice("by", "asked by", reviewers, true),
    choice("result", "result", reviewResults, true),
    choice(
      "award",
      "what stands",
      awards.filter((one) => one !== "pending"),
    ),
    choice("appeal", "appeal, on the board", ["kept", "lost"]),
    at,
  ],
  card: [
    choice("to", "to", doers, true),
    choice("card", "card", cardColours, true),
    field("for", "for", { as: "text", wide: true, offers: "offences" }),
    field("group", "group", { as: "number", least: 1, most: 4 }),
    at,
  ],
  stop: [
    field("for", "for", { as: "several", choices: stopReasons }),
    choice("by", "asked by", stoppers),
    at,
    until,
  ],
  board: [score, text("clock", "clock"), at],
  correction: [score, text("for", "for", true), at],
  opening: [...afterwards, at],
  gap: [...afterwards, at, until],
  period: [choice("number", "number", periodNumbers, true), at],
  draw: [choice("to", "priority to", sides), at],
  end: [choice("by", "by", endings, true), choice("winner", "winner", sides), at],
  shot: [field("name", "name", { as: "text", offers: "shots" }), at],
  fit: [at],
  platforms: [at],
  distance: [
    choice("reference", "measured on the arm of", sides),
    choice("to", "to", ["inner elbow", "elbow point"]),
    field("change", "notches moved", { as: "number" }),
    at,
  ],
  note: [text("text", "text", true), at],
};

/** The fields of a kind of entry in the order of the strip; only its time for a kind that is not known. */
export function entryFields(kind: string): readonly EntryField[] {
  return [...(fieldsByKind[kind] ?? [at]), confirmed];
}

/** A written value as the text of its field. */
export function shownText(value: Json | undefined): string {
  if (value === undefined || value === null) return "";
  if (Array.isArray(value)) return value.map((one) => shownText(one)).join(", ");
  return typeof value === "object" ? "" : String(value);
}

/** What text typed into a field means: null takes the field away; undefined where it can't be that. */
export function typedValue(takes: Takes, typed: string): FieldValue | undefined {
  const trimmed = typed.trim();
  switch (takes.as) {
    case "text":
      return trimmed === "" ? null : trimmed;
    case "time":
      return trimmed === "" ? null : timePattern.test(trimmed) ? trimmed : undefined;
    case "number": {
      if (trimmed === "") return null;
      const value = Number(trimmed.replace(",", "."));
      const fits = value >= (takes.least ?? -Infinity) && value <= (takes.most ?? Infinity);
      return Number.isFinite(value) && fits ? value : undefined;
    }
    case "choice":
      return trimmed === "" ? null : takes.choices.find((one) => String(one) === trimmed);
    case "words":
    case "several": {
      const words = trimmed
        .split(",")
        .map((word) => word.trim())
        .filter((word) => word !== "");
      const known = takes.as === "words" || words.every((word) => takes.choices.includes(word));
      return words.length === 0 ? null : known ? [...new Set(words)] : undefined;
    }
    case "pair": {
      const found = /^(\d{1,3})\D+(\d{1,3})$/.exec(trimmed);
      return found === null ? undefined : [Number(found[1]), Number(found[2])];
    }
    case "tick":
      return trimmed === "" ? null : takes.on;
  }
}

/** What is wrong with a field's text, in words. */
export function fault({ words, takes }: EntryField): string {
  switch (takes.as) {
    case "time":
      return `${words}: a time is written h:mm:ss.mmm, for example 0:04:12.480`;
    case "number":
      return takes.most === undefined
        ? `${words}: a number is wanted`
        : `${words}: a number from ${takes.least ?? 0} to ${takes.most} is wanted`;
    case "pair":
      return `${words}: two whole numbers are wanted`;
    default:
      return `${words}: this is not one of the words a bout file knows`;
  }
}

/** Words offered for where a touch landed; common practice, no source. */
export const targets: readonly string[] = [
  "chest",
  "flank",
  "shoulder",
  "back",
  "arm",
  "hand",
  "mask",
  "bib",
  "stomach",
];
export const shotNames: readonly string[] = ["main", "close", "replay"];
