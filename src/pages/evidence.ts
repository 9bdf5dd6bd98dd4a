// The phrases behind a figure: as a button of the page that plays them, and as stretches of the recording to play.

import type { Bout } from "../bout/read";
import type { Entry } from "../bout/schema";
import { timeOf } from "../bout/written";
import { markup, type Markup } from "./markup";
import type { Medium } from "./reader";

export interface Playable {
  /** Names the figure; the same when the page is made again after an edit. */
  readonly key: string;
  /** What will be played, such as "attack, Vessa Tarn: scored". */
  readonly title: string;
  /** Entries of the log, by their place in it. */
  readonly entries: readonly number[] | undefined;
  /** True where the words around the button say already what it plays. */
  readonly plain?: boolean;
}

/** Makes the buttons of one page: the figure's own words, which play what is behind them. */
export type Play = (what: Playable, words: string | number) => Markup;

/** Figures without evidence, those of a bout without a recording, and those of a file are plain text. `of` says which of
 * two bouts it is, on a page of two. */
export function player(bout: Bout, medium: Medium, of?: "first" | "second"): Play {
  if (medium === "file" || bout.recordings.length === 0) return (_, words) => markup`${words}`;
  return ({ key, title, entries, plain }, words) => {
    if (entries === undefined || entries.length === 0) return markup`${words}`;
    const what = markup`type="button" class="evidence" data-key="${key}" data-entries="${entries.join(",")}" data-title="${title}"${of !== undefined && markup` data-of="${of}"`}`;
    if (plain === true) return markup`<button ${what}>${words}</button>`;
    const name = `${words} \u2013 play ${title}`;
    return markup`<button ${what} aria-label="${name}" title="${name}">${words}</button>`;
  };
}

/** A stretch of the recording in milliseconds. */
export interface Stretch {
  readonly from: number;
  readonly to: number;
}

/** Played before the command to fence and after the halt, in milliseconds. */
const leadIn = 1000;
/** How much is played of what has no end of its own: a phrase not halted, a card, a review. */
const noEnd = 4000;

/** The stretches that show these entries, in their order: of a review the phrase it belongs to. Entries that can't be
 * read are passed over. */
export function stretchesOf(bout: Bout, entries: readonly number[]): readonly Stretch[] {
  const shown = new Map<number, Entry>();
  let phrase: Entry | undefined;
  for (const { index, entry } of bout.log) {
    if (entry.kind === "phrase") phrase = entry;
    shown.set(index, entry.kind === "review" ? (phrase ?? entry) : entry);
  }
  return entries.flatMap((index) => {
    const entry = shown.get(index);
    if (entry === undefined) return [];
    const start = timeOf(entry);
    return [{ from: Math.max(0, start - leadIn), to: Math.max(start, endOf(entry)) + leadIn }];
  });
}

function endOf(entry: Entry): number {
  const start = timeOf(entry);
  if (entry.kind === "phrase") return entry.halt ?? start + noEnd;
  return start + noEnd;
}
