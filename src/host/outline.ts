// The log as a table of contents: a heading for each period, under it what happened in it, told in a line. VS Code shows
// it as outline, breadcrumbs and "Go to Symbol", and folds the text by it.

import type { EntryRecord } from "../bout/read";
import type { Stretch } from "../bout/scan";
import type { Kind } from "../bout/schema";
import type { Ledger, PhraseRow, Row, Score, State } from "../rules";
import { callSentence } from "../rules/call";

export interface Heading {
  readonly name: string;
  /** Its entries, from the first to the last. */
  readonly range: Stretch;
  /** The entry it begins with. */
  readonly first: Stretch;
  readonly lines: readonly Line[];
}

export interface Line {
  readonly kind: Kind;
  readonly name: string;
  /** The entry's time as written. */
  readonly at: string;
  readonly range: Stretch;
}

/** Neighbouring entries of one period, as they stand in the file. */
interface Part {
  readonly rows: Row[];
  readonly period: State["period"];
}

/** Worked out once for a ledger: the outline and the folds ask for it alike. */
export function outlineOf(ledger: Ledger): readonly Heading[] {
  const before = known.get(ledger);
  if (before !== undefined) return before;
  const headings = headingsOf(ledger);
  known.set(ledger, headings);
  return headings;
}
const known = new WeakMap<Ledger, readonly Heading[]>();

function headingsOf(ledger: Ledger): readonly Heading[] {
  return partsOf(ledger).flatMap(({ rows, period }) => {
    const first = rows[0];
    const last = rows.at(-1);
    if (first === undefined || last === undefined) return [];
    const { offset } = first.record;
    return {
      name: headingName(period, first.before.score, last.state.score),
      range: { offset, length: last.record.offset + last.record.length - offset },
      first: stretchOf(first.record),
      lines: rows.filter(({ kind }) => !ofPicture.has(kind)).map((row) => lineOf(row, ledger)),
    };
  });
}

/** Entries about the picture say nothing of the bout, and there are as many of them as phrases. */
const ofPicture: ReadonlySet<Kind> = new Set(["shot", "fit", "platforms", "distance"]);

function partsOf({ rows }: Ledger): readonly Part[] {
  const parts: Part[] = [];
  for (const row of rows) {
    const { period } = row.state;
    const last = parts.at(-1);
    if (last === undefined || row.kind === "period" || last.period !== period)
      parts.push({ rows: [row], period });
    else last.rows.push(row);
  }
  return parts;
}

function headingName(period: State["period"], from: Score, to: Score): string {
  return `${period === "extra" ? "Extra minute" : `Period ${period}`}, ${scoreWords(from)} to ${scoreWords(to)}`;
}

function lineOf(row: Row, ledger: Ledger): Line {
  return {
    kind: row.kind,
    name: inOneLine(row.kind === "phrase" ? phraseName(row, ledger) : capital(callSentence(row, ledger))),
    at: row.record.at,
    range: stretchOf(row.record),
  };
}

/** "3. left attack: touch left, 2:1", without the lamps, which would make a long line longer. */
function phraseName(row: PhraseRow, ledger: Ledger): string {
  const { lamps: _, ...entry } = row.entry;
  const { number, reviews, closed } = row.phrase;
  const review = reviews.at(-1);
  const { score } = (review === undefined ? undefined : ledger.byEntry[review]?.state) ?? row.state;
  const sentence = callSentence({ ...row, entry }, ledger);
  return `${number}. ${sentence}${closed ? `, ${scoreWords(score)}` : ""}`;
}

/** Longer than any call; a note may be. */
const longest = 120;

function inOneLine(words: string): string {
  const line = words.replace(/\s+/g, " ").trim();
  return line.length > longest ? `${line.slice(0, longest - 1)}…` : line;
}

function capital(words: string): string {
  return words.charAt(0).toUpperCase() + words.slice(1);
}

function scoreWords([left, right]: Score): string {
  return `${left}:${right}`;
}

function stretchOf({ offset, length }: EntryRecord): Stretch {
  return { offset, length };
}
