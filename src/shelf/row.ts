// What the index keeps of one bout file: enough to group, filter, count and find it, without its log.

import type { Severity } from "../bout/result";
import type { Format, Side, Weapon } from "../bout/words";
import type { EditionFile, Score, Study } from "../rules";
import type { BoutFile } from "./find";

export interface FencerOnShelf {
  readonly id?: string | undefined;
  readonly name: string;
  readonly club?: string | undefined;
  readonly hand?: Side | undefined;
  readonly category?: string | undefined;
}

export interface RecordingOnShelf {
  /** As the bout file names it. */
  readonly file: string;
  readonly present: boolean;
}

/** A bout file that could be read, perhaps with findings. */
export interface BoutRow extends BoutFile {
  readonly is: "bout";
  /** Of the file's bytes; see `bytes.ts`. */
  readonly sum: string;
  readonly title?: string | undefined;
  readonly event?: string | undefined;
  readonly round?: string | undefined;
  /** YYYY-MM-DD */
  readonly date?: string | undefined;
  readonly weapon: Weapon;
  readonly format: Format;
  readonly rules: string;
  readonly fencers: Readonly<Record<Side, FencerOnShelf>>;
  readonly score: Score;
  /** Null while undecided. */
  readonly winner: Side | null;
  /** Phrases before the end of the bout, an open one included. */
  readonly phrases: number;
  /** Those of them whose touch is not called, or waits for its review. */
  readonly uncalled: number;
  readonly findings: Readonly<Record<Severity, number>>;
  readonly recordings: readonly RecordingOnShelf[];
  readonly editionFile?: EditionState | undefined;
}

/** A file that holds no bout, and why. */
export interface UnreadableRow extends BoutFile {
  readonly is: "unreadable";
  /** A sentence without its full stop, in words that follow the file's name. */
  readonly problem: string;
  /** Where in the text, from 1; undefined where the text itself could not be had. */
  readonly line?: number | undefined;
}

export type ShelfRow = BoutRow | UnreadableRow;

/** The file of an edition of its own that a bout was counted by; a change of it makes another row. */
export interface EditionState {
  readonly file: string;
  /** Bytes; -1 where there is no such file. */
  readonly size: number;
  readonly modified: number;
}

/** The text of a bout file, and what was seen of its bytes. */
export interface FileText {
  readonly text: string;
  readonly sum: string;
  readonly colons: number;
}

/** What a row needs from outside the text. */
export interface Surroundings {
  /** The edition file of this name beside the bout file, and its state. */
  readonly edition: (name: string) => {
    readonly state: EditionState;
    readonly file: EditionFile | undefined;
  };
  /** Whether the recording a bout file names so is there. */
  readonly isPresent: (recording: string) => boolean;
}

/** The row of a bout that was counted. */
export function rowOfBout(
  { file, size, modified }: BoutFile,
  sum: string,
  { bout, ledger, findings }: Omit<Study, "edition">,
  { isPresent }: Pick<Surroundings, "isPresent">,
  editionFile?: EditionState,
): BoutRow {
  const counts = { error: 0, warning: 0, note: 0 };
  for (const { severity } of findings) counts[severity]++;
  let [phrases, uncalled] = [0, 0];
  for (const row of ledger.rows) {
    if (row.kind !== "phrase" || !row.phrase.counts) continue;
    phrases++;
    if (row.phrase.stands === null) uncalled++;
  }
  const { title, event, round, date, weapon, format, rules } = bout.about;
  return {
    is: "bout",
    file,
    size,
    modified,
    sum,
    title,
    event,
    round,
    date,
    weapon,
    format,
    rules,
    fencers: { left: fencerOf(bout.fencers.left), right: fencerOf(bout.fencers.right) },
    score: ledger.end.score,
    winner: ledger.winner,
    phrases,
    uncalled,
    findings: counts,
    recordings: bout.recordings.map((one) => ({ file: one.file, present: isPresent(one.file) })),
    editionFile,
  };
}

function fencerOf({ id, name, club, hand, category }: FencerOnShelf): FencerOnShelf {
  return { id, name, club, hand, category };
}
