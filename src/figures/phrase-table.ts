// One row a phrase: the table behind exports and queries. The catalogue of its columns is the one source for its types,
// for the page that describes them and for the help of a query.

import { sides, type Lamp, type Side } from "../bout/words";
import type { Ledger, PhraseRow, ReviewRow } from "../rules";
import { hasTouch } from "../rules/phrases";

/** Raised by a change of what a column means, not by a new column. */
export const phraseTableVersion = 1;

export type ColumnType = "text" | "integer" | "number" | "date" | "truth";

export interface Column {
  readonly name: ColumnName;
  readonly type: ColumnType;
  readonly unit?: string;
  readonly means: string;
  /** Never empty. */
  readonly always?: true;
}

const columnNames = [
  ...(["bout", "file", "date", "event", "weapon", "format", "rules"] as const),
  ...(["entry", "phrase", "start_s", "halt_s", "fencing_s", "period", "score_left", "score_right"] as const),
  ...(["left_id", "right_id", "opener", "actions", "scoring_action", "lamp_left", "lamp_right"] as const),
  ...(["award_first", "award", "reviewed_by", "review_result", "target", "tags", "sure"] as const),
] as const;
export type ColumnName = (typeof columnNames)[number];

export type PhraseCell = string | number | boolean | null;
export type PhraseTableRow = Readonly<Record<ColumnName, PhraseCell>>;

/** Between several values of one cell. */
const between = "; ";

const catalogue: Readonly<Record<ColumnName, Omit<Column, "name">>> = {
  bout: {
    type: "text",
    always: true,
    means: "which bout: the bout file without its ending, the same in no other bout of the table",
  },
  file: {
    type: "text",
    always: true,
    means:
      "the bout file, from the folder that all files of the table have in common, with / between folders",
  },
  date: { type: "date", means: "the day of the bout, YYYY-MM-DD" },
  event: { type: "text", means: "the competition" },
  weapon: { type: "text", always: true, means: "foil, epee or sabre" },
  format: { type: "text", always: true, means: "pool, elimination, veterans or training" },
  rules: { type: "text", always: true, means: "the rule edition named in the file" },
  entry: {
    type: "integer",
    always: true,
    means: "which entry of the file's log the phrase is, from 0; with bout it names the phrase",
  },
  phrase: { type: "integer", always: true, means: "the phrase's number in the bout, from 1" },
  start_s: {
    type: "number",
    unit: "s",
    always: true,
    means: "the command to fence, from the first frame of the first recording",
  },
  halt_s: {
    type: "number",
    unit: "s",
    means: "the command to stop, on the same clock; empty while the phrase is open",
  },
  fencing_s: {
    type: "number",
    unit: "s",
    always: true,
    means: "from the command to fence to the halt; 0 while open and where no command was given",
  },
  period: { type: "text", always: true, means: "1, 2, 3 or extra" },
  score_left: { type: "integer", unit: "touches", always: true, means: "the left fencer's score before it" },
  score_right: {
    type: "integer",
    unit: "touches",
    always: true,
    means: "the right fencer's score before it",
  },
  left_id: {
    type: "text",
    means: "the id of the fencer on the referee's left; empty where the file has none",
  },
  right_id: { type: "text", means: "the id of the fencer on the referee's right" },
  opener: {
    type: "text",
    means: "who committed first: left, right or both; empty where no action that can score was tagged",
  },
  actions: {
    type: "text",
    means: `what the tagger saw, in order, each as "left attack", with "${between}" between them`,
  },
  scoring_action: {
    type: "text",
    means: `the action that brought the touch that stands, or untagged; where both have a touch, left's, then "${between}" and right's; empty without a touch`,
  },
  lamp_left: {
    type: "text",
    means: `lamps that say the left fencer hit: valid, off-target, fault, several with "${between}" between them; none where none was lit; empty where lamps were not recorded`,
  },
  lamp_right: { type: "text", means: "the same of the right fencer" },
  award_first: {
    type: "text",
    means: "the touch as first announced: left, right, both, none or pending; empty while not called",
  },
  award: {
    type: "text",
    means:
      "the touch that stands after reviews and annulment: left, right, both or none; empty while not decided",
  },
  reviewed_by: {
    type: "text",
    means: `who asked for a review of it: left, right, referee, video-referee or level score; several with "${between}" between them`,
  },
  review_result: {
    type: "text",
    means: `what the review brought: changed, kept, decided or no picture; several as in reviewed_by`,
  },
  target: { type: "text", means: "where the touch landed, in the tagger's words" },
  tags: { type: "text", means: `the coach's own words, with "${between}" between them` },
  sure: { type: "truth", always: true, means: "false where the tagger was not sure of the phrase" },
};

/** In the order in which they are written. */
export const phraseColumns: readonly Column[] = columnNames.map((name) => ({ name, ...catalogue[name] }));

/** What the table holds besides the meaning of its columns; said on the page of columns. */
export const phraseTableRules: readonly string[] = [
  "One row a phrase of the log, in the log's order. Phrases after the end of the bout count nowhere and are left out; a phrase that is still open has a row with an empty halt_s.",
  "Touches from red cards, from parts that were not recorded and from corrections by hand are no phrases: they show in score_left and score_right of the next one.",
  "left and right are the referee's. An award and a lamp name the fencer who scored.",
];

export interface TableSource {
  readonly bout: string;
  readonly file: string;
}

/** The phrases of a bout as rows. */
export function phraseTable(ledger: Ledger, { bout, file }: TableSource): readonly PhraseTableRow[] {
  const { about, fencers } = ledger.bout;
  const date = realDate(about.date);
  return countedRows(ledger).map((row) => {
    const { entry, phrase, before, record } = row;
    const reviews = reviewsOf(row, ledger);
    // Each cell by name: spreading those of the bout over every row took five times as long (measured).
    return {
      bout,
      file,
      date,
      event: about.event ?? null,
      weapon: about.weapon,
      format: about.format,
      rules: about.rules,
      entry: record.index,
      phrase: phrase.number,
      start_s: entry.start / 1000,
      halt_s: entry.halt === undefined ? null : entry.halt / 1000,
      fencing_s: phrase.fencing / 1000,
      period: String(before.period),
      score_left: before.score[0],
      score_right: before.score[1],
      left_id: fencers.left.id ?? null,
      right_id: fencers.right.id ?? null,
      opener: phrase.opener,
      actions: joined(entry.actions),
      scoring_action: joined(
        sides.flatMap((side) => (hasTouch(phrase.stands, side) ? [phrase.scoring[side] ?? "untagged"] : [])),
      ),
      lamp_left: lampCell(row, "left"),
      lamp_right: lampCell(row, "right"),
      award_first: entry.award ?? null,
      award: phrase.stands,
      reviewed_by: joined(reviews.map(({ entry: { by } }) => by)),
      review_result: joined(reviews.map(({ entry: { result } }) => result)),
      target: entry.target ?? null,
      tags: joined(entry.tags),
      sure: entry.sure !== false,
    };
  });
}

/** The phrases that have a row. */
export function countedRows({ rows }: Ledger): readonly PhraseRow[] {
  return rows.filter((row): row is PhraseRow => row.kind === "phrase" && row.phrase.counts);
}

function reviewsOf({ phrase }: PhraseRow, { byEntry }: Ledger): readonly ReviewRow[] {
  return phrase.reviews
    .map((entry) => byEntry[entry])
    .filter((row): row is ReviewRow => row?.kind === "review");
}

function joined(words: readonly string[] | undefined): string | null {
  return words === undefined || words.length === 0 ? null : words.join(between);
}

function lampCell({ entry: { lamps } }: PhraseRow, side: Side): string | null {
  if (lamps === undefined) return null;
  const lit: readonly Lamp[] = [lamps[side] ?? []].flat();
  return joined(lit) ?? "none";
}

/** A day that the calendar knows; null for one such as the 31st of June, which other programs refuse. */
function realDate(written: string | undefined): string | null {
  if (written === undefined) return null;
  const day = new Date(`${written}T00:00:00Z`);
  return !Number.isNaN(day.getTime()) && day.toISOString().startsWith(written) ? written : null;
}

/** The year in which the season of a day began; a season goes from September to August, as in the rule book's
 * "season 2026-27". Null without a date. */
export function seasonOf(date: PhraseCell): number | null {
  if (typeof date !== "string") return null;
  const [year, month] = date.split("-").map(Number);
  return year === undefined || month === undefined ? null : month >= 9 ? year : year - 1;
}
