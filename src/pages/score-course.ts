// How did the score grow? The ledger's rows laid out along the numbers of the phrases: a phrase at its number, what
// happened between two phrases evenly between them.

import type { Doer } from "../bout/words";
import type { Ledger, Row, Score, Sided } from "../rules";
import { callLabel, callSentence } from "../rules/call";
import type { EntryKeys } from "./entry-keys";
import { counted } from "./numbers";
import type { Medium } from "./reader";

/** What a place on the chart tells and plays. */
export interface Told {
  /** A sentence about the entry; made only where it is drawn. */
  readonly title: () => string;
  readonly entry: number;
  /** Names the entry; the same after an edit elsewhere. */
  readonly key: string;
}

/** Something other than a phrase that belongs on the chart. */
export interface Mark extends Told {
  readonly kind: "card" | "review" | "stop" | "period";
  readonly at: number;
  /** Whose it is: who got the card, or asked for the review or the stop; null for officials. */
  readonly side: Doer | null;
  /** A word or two for the chart. */
  readonly word: string;
}

export interface Step {
  readonly at: number;
  readonly score: Score;
  /** The entry that changed the score; null at both ends of the chart. */
  readonly by: Told | null;
}

export interface Course {
  /** Numbers of the first and the last place on the chart. */
  readonly phrases: number;
  /** The score wherever it changes, beginning with the first. */
  readonly steps: readonly Step[];
  readonly marks: readonly Mark[];
  /** False for a bout without a recording, and in a file. */
  readonly playable: boolean;
}

export function courseOf(ledger: Ledger, keys: EntryKeys, medium: Medium): Course {
  const { rows, start, end } = ledger;
  const steps: Step[] = [{ at: 0, score: start.score, by: null }];
  const marks: Mark[] = [];
  let phrases = 0;
  let between: Row[] = [];
  const place = (row: Row, at: number): void => {
    const { before, state, record } = row;
    const by = {
      title: () => callSentence(row, ledger),
      entry: record.index,
      key: `chart.${keys(record.index)}`,
    };
    if (before.score !== state.score) steps.push({ at, score: state.score, by });
    const mark = markOf(row);
    if (mark !== undefined) marks.push({ ...mark, ...by, at, word: callLabel(row, ledger) });
  };
  const placeBetween = (): void => {
    between.forEach((row, index) => place(row, phrases + (index + 1) / (between.length + 1)));
    between = [];
  };
  for (const row of rows) {
    if (row.kind === "phrase") {
      placeBetween();
      phrases = row.phrase.number;
      place(row, phrases);
    } else if (markOf(row) !== undefined || row.before.score !== row.state.score) between.push(row);
  }
  placeBetween();
  steps.push({ at: phrases + 1, score: end.score, by: null });
  return { phrases, steps, marks, playable: medium === "panel" && ledger.bout.recordings.length > 0 };
}

/** Whether there is anything to draw yet. */
export function hasBegun({ phrases, steps, marks }: Course): boolean {
  return phrases > 0 || marks.length > 0 || steps.some(({ by }) => by !== null);
}

/** What the chart shows, for readers who don't see it. */
export function courseWords({ steps, marks, phrases }: Course, names: Sided<string>): string {
  const [left, right] = steps.at(-1)?.score ?? [0, 0];
  const number = (kind: string) => marks.filter((mark) => mark.kind === kind).length;
  return `Line chart of both scores over ${counted(phrases, "phrase")}, ending ${names.left} ${left}, ${names.right} ${right}, with ${counted(number("card"), "card")}, ${counted(number("review"), "review")} and ${counted(number("stop"), "stop")}. The phrases in order say the same in words.`;
}

function markOf(row: Row): Pick<Mark, "kind" | "side"> | undefined {
  switch (row.kind) {
    case "card":
      return { kind: "card", side: row.entry.to };
    case "review":
      return { kind: "review", side: sideOf(row.entry.by) };
    case "stop":
      return { kind: "stop", side: sideOf(row.entry.by) };
    case "period":
      return { kind: "period", side: null };
    default:
      return undefined;
  }
}

function sideOf(by: string | undefined): Doer | null {
  return by === "left" || by === "right" ? by : null;
}
