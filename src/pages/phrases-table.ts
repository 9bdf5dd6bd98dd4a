// The phrases in order: side and actions, lamps, what was given in the end; between them cards, reviews and stops as
// sentences. What the chart of the score shows, in words.

import { sides, type Lamp } from "../bout/words";
import type { PhraseRow, Row, Score } from "../rules";
import { callSentence } from "../rules/call";
import { markup, type Markup } from "./markup";
import { decimal } from "./numbers";
import { noneYet, type Reader } from "./reader";

export function phrasesTable(reader: Reader): Markup {
  const rows = reader.ledger.rows.filter(belongs);
  if (rows.length === 0) return markup`<p>Phrases: ${noneYet}.</p>`;
  return markup`<div class="columns"><table class="course"><caption class="unseen">The phrases in order</caption><thead><tr><th scope="col" class="number">no.</th><th scope="col">time</th><th scope="col">actions</th><th scope="col">lamps</th><th scope="col">given</th><th scope="col" class="number">score</th></tr></thead><tbody>${rows.map(
    (row) => (row.kind === "phrase" ? phraseLine(row, reader) : otherLine(row, reader)),
  )}</tbody></table></div>`;
}

function phraseLine(row: PhraseRow, reader: Reader): Markup {
  const { entry, phrase } = row;
  const actions = (entry.actions ?? []).join(", ");
  return markup`<tr><td class="number">${phrase.number}</td><th scope="row">${time(row, `phrase ${phrase.number}`, reader)}</th><td>${
    actions === "" ? markup`<span class="none">not tagged</span>` : actions
  }${words(entry.tags)}</td><td>${lampWords(row)}</td><td>${given(row, reader)}</td><td class="number">${scoreAfter(row, reader)}</td></tr>`;
}

function otherLine(row: Row, reader: Reader): Markup {
  return markup`<tr class="between"><td></td><th scope="row">${time(row, row.kind, reader)}</th><td colspan="3">${row.kind === "stop" ? stopWords(row) : callSentence(row, reader.ledger)}</td><td class="number">${score(row.state.score)}</td></tr>`;
}

/** Shorter than the sentence of the phrase line: how long it took, not when it ended. */
function stopWords({ entry }: Extract<Row, { kind: "stop" }>): string {
  const { at, until, by } = entry;
  const reasons = [entry.for].flat().join(" and ");
  const length =
    until === undefined ? "not over yet" : `${decimal(Math.max(0, until - at) / 1000, 1)}\u00a0s`;
  return [`stop for ${reasons}`, by === undefined ? undefined : `asked for by ${by}`, length]
    .filter((part) => part !== undefined)
    .join(", ");
}

/** Paper has room for minutes and seconds. */
function time({ record: { at, index } }: Row, title: string, { play, keys, medium }: Reader): Markup {
  const [, hours = "", minutes = "", rest = ""] = /^(0:)?([\d:]+)(\.\d+)?$/.exec(at) ?? ["", "", at];
  if (medium === "panel")
    return play({ key: `course.${keys(index)}`, title, entries: [index], plain: true }, at);
  return markup`<span class="screen">${hours}</span>${minutes}<span class="screen">${rest}</span>`;
}

/** The coach's own words beside the actions. */
function words(tags: readonly string[] | undefined): Markup | undefined {
  const own = (tags ?? []).filter((tag) => tag.trim() !== "");
  return own.length === 0 ? undefined : markup` <span class="note">(${own.join(", ")})</span>`;
}

const lampNames: Readonly<Record<Lamp, string>> = {
  valid: "",
  "off-target": " off target",
  fault: " fault",
};

function lampWords({ entry: { lamps } }: PhraseRow): Markup | string {
  if (lamps === undefined) return markup`<span class="none">not recorded</span>`;
  const lit = sides.flatMap((side) => [lamps[side] ?? []].flat().map((lamp) => `${side}${lampNames[lamp]}`));
  if (lit.join() === "left,right") return "both";
  return lit.length === 0 ? "none" : lit.join(", ");
}

/** Who has the touch in the end, and why nobody or why otherwise than announced. */
function given({ entry, phrase }: PhraseRow, { ledger }: Reader): string {
  const { stands, closed, counts } = phrase;
  if (!closed) return "not halted yet";
  const changed = phrase.reviews.some((index) => {
    const review = ledger.byEntry[index];
    return review?.kind === "review" && review.stood !== review.stands;
  });
  const notes = [
    stands === "none" && entry.annulled === undefined ? entry.because : undefined,
    entry.annulled !== undefined ? `annulled${entry.for === undefined ? "" : `, ${entry.for}`}` : undefined,
    changed ? "by review" : undefined,
    counts ? undefined : "after the end",
    entry.sure === false ? "not sure" : undefined,
  ].filter((note) => note !== undefined);
  const award = stands === null ? (entry.award === "pending" ? "waits" : "not called") : standing[stands];
  return notes.length === 0 ? award : `${award} (${notes.join(", ")})`;
}

const standing = { left: "left", right: "right", both: "both", none: "nobody" } as const;

/** After the reviews of the phrase, which come later in the log. */
function scoreAfter({ state, phrase }: PhraseRow, { ledger }: Reader): string {
  const last = phrase.reviews.at(-1);
  return score((last === undefined ? undefined : ledger.byEntry[last]?.state.score) ?? state.score);
}

function score([left, right]: Score): string {
  return `${left}:${right}`;
}

/** What moves the score or the bout along; the picture, the boards and the notes are left to the text. */
function belongs({ kind }: Row): boolean {
  switch (kind) {
    case "phrase":
    case "review":
    case "card":
    case "stop":
    case "period":
    case "correction":
    case "opening":
    case "gap":
    case "draw":
    case "end":
      return true;
    case "shot":
    case "fit":
    case "platforms":
    case "distance":
    case "board":
    case "note":
      return false;
  }
}
