// What happened, told as a referee would tell it: "left attack, right parry, right riposte; right lamp: touch right".
// One sentence for each kind of entry, and a word or two for the phrase line.

import type { EntryOf, Phrase } from "../bout/schema";
import { formatTime } from "../bout/time";
import { sides, type Doer, type Reviewer, type Side, type Standing } from "../bout/words";
import { touchesFor } from "./cards";
import type { Ledger } from "./ledger";
import type { PhraseRow, ReviewRow, Row, Score } from "./rows";

/** The whole of an entry in plain words, for the call sentence. Left and right are the referee's. */
export function callSentence(row: Row, ledger: Ledger): string {
  switch (row.kind) {
    case "phrase":
      return phraseSentence(row, ledger);
    case "review":
      return reviewSentence(row);
    case "card":
      return cardSentence(row.entry);
    case "stop":
      return stopSentence(row.entry);
    case "board":
      return `board shows ${scoreWords(row.entry.score)}${after(", clock ", row.entry.clock)}`;
    case "correction":
      return `officials set the score to ${scoreWords(row.entry.score)}${bracketed(row.entry.for)}`;
    case "opening":
      return `recording starts at ${scoreWords(row.entry.score)}${inPeriod(row.entry.period)}`;
    case "gap":
      return `not recorded; ${scoreWords(row.entry.score)} after it${inPeriod(row.entry.period)}`;
    case "period":
      return row.entry.number === "extra" ? "extra minute begins" : `period ${row.entry.number} begins`;
    case "draw":
      return row.entry.to === undefined ? "lots drawn for priority" : `lots drawn: priority ${row.entry.to}`;
    case "end":
      return endSentence(row.entry, ledger);
    case "shot":
      return `picture: ${row.entry.name}`;
    case "fit":
      return `floor fitted with ${row.entry.points.length} points`;
    case "platforms":
      return `platforms placed: ${placed(row.entry)}`;
    case "distance":
      return distanceSentence(row.entry);
    case "note":
      return row.entry.text === undefined || row.entry.text === "" ? "note, still empty" : row.entry.text;
  }
}

/** A word or two for the phrase line: the number of the side's touch, "yellow", "kept", "re-centre". Empty where the
 * sign says enough. */
export function callLabel(row: Row, ledger: Ledger): string {
  switch (row.kind) {
    case "phrase":
      return touchNumber(row, ledger);
    case "review":
      return row.entry.result;
    case "card":
      return row.entry.card;
    case "stop":
      return reasonsOf(row.entry)[0] ?? "";
    case "board":
    case "correction":
    case "opening":
    case "gap":
      return scoreWords(row.entry.score);
    case "period":
      return row.entry.number === "extra" ? "extra minute" : `period ${row.entry.number}`;
    case "draw":
      return "lots";
    case "end":
      return row.entry.by;
    case "shot":
      return row.entry.name;
    case "fit":
      return "fit";
    case "platforms":
      return "platforms";
    case "distance":
      return "distance";
    case "note":
      return "note";
  }
}

/** The side an entry's sign stands on: who has the touch, got the card, asked for the review or the stop. */
export function callSide(row: Row, ledger: Ledger): Doer | null {
  switch (row.kind) {
    case "phrase":
      return row.phrase.stands === "none" ? null : row.phrase.stands;
    case "review":
    case "stop":
      return row.entry.by === "left" || row.entry.by === "right" ? row.entry.by : null;
    case "card":
      return row.entry.to;
    case "draw":
      return row.entry.to ?? null;
    case "distance":
      return row.entry.reference ?? null;
    case "end":
      return winnerAt(row.entry, ledger);
    default:
      return null;
  }
}

// ---- Phrases

function phraseSentence({ entry, phrase, record }: PhraseRow, ledger: Ledger): string {
  const seen = [(entry.actions ?? []).join(", "), lampWords(entry)]
    .filter((words) => words !== "")
    .join("; ");
  if (!phrase.closed)
    return seen === "" ? `fencing since ${record.at}` : `${seen}: not halted yet${given(entry)}`;
  const told =
    entry.call === undefined || entry.call.join() === (entry.actions ?? []).join()
      ? ""
      : `; the referee told: ${entry.call.join(", ")}`;
  const verdict = [announcement(entry), ...reviewOutcomes(phrase.reviews, ledger)].join(", ");
  const counted = phrase.counts ? "" : ", after the end of the bout";
  return `${seen === "" ? "" : `${seen}: `}${verdict}${counted}${told}`;
}

function given(entry: Phrase): string {
  return entry.award === undefined ? "" : `, ${announcement(entry)}`;
}

/** What the referee announced first, and what was annulled of it. */
function announcement({ award, because, annulled, for: why }: Phrase): string {
  const taken =
    annulled === undefined
      ? ""
      : `, annulled${award === "both" && annulled !== "both" ? ` for ${annulled}` : ""}${bracketed(why)}`;
  if (award === undefined) return `not yet called${taken}`;
  if (award === "pending") return `waits for the video review${taken}`;
  return `${standingWords(award)}${award === "none" ? bracketed(because) : ""}${taken}`;
}

function reviewOutcomes(reviews: readonly number[], ledger: Ledger): string[] {
  return reviews.flatMap((index) => {
    const row = ledger.byEntry[index];
    return row?.kind === "review" ? [outcome(row)] : [];
  });
}

/** "changed by review to touch left". */
function outcome({ entry, stands }: ReviewRow): string {
  const what = stands === null ? "nothing decided" : standingWords(stands);
  switch (entry.result) {
    case "changed":
      return `changed by review to ${what}`;
    case "kept":
      return "kept by review";
    case "decided":
      return `decided by review: ${what}`;
    case "no picture":
      return "review without a picture";
  }
}

function lampWords({ lamps }: Phrase): string {
  if (lamps === undefined) return "";
  const lit = sides.map((side) => [lamps[side] ?? []].flat());
  const [left = [], right = []] = lit;
  if (left.length === 0 && right.length === 0) return "no lamp";
  if (left.join() === right.join() && left.length === 1)
    return left[0] === "valid" ? "both lamps" : `both ${left[0] === "fault" ? "fault" : "off-target"} lamps`;
  return sides
    .flatMap((side, index) => (lit[index] ?? []).map((lamp) => (lamp === "valid" ? side : `${side} ${lamp}`)))
    .map((words) => `${words} lamp`)
    .join(" and ");
}

/** Which touch of its side this phrase brought, counted as the score stood after its reviews. */
function touchNumber({ phrase, state }: PhraseRow, ledger: Ledger): string {
  const { stands, counts } = phrase;
  if (stands === null || stands === "none" || !counts) return "";
  const last = phrase.reviews.at(-1);
  const { score } = (last === undefined ? undefined : ledger.byEntry[last]?.state) ?? state;
  return stands === "both" ? scoreWords(score) : String(score[stands === "left" ? 0 : 1]);
}

// ---- Other kinds

function reviewSentence({ entry, of, stood, stands }: ReviewRow): string {
  const asked = `${reviewerWords[entry.by]}: `;
  const board = entry.appeal === undefined ? "" : `, board shows the appeal ${entry.appeal}`;
  if (of === null) return `${asked}no phrase before it${board}`;
  const now = stands === null ? "nothing decided" : standingWords(stands);
  const told = entry.call === undefined ? "" : `; told again: ${entry.call.join(", ")}`;
  switch (entry.result) {
    case "changed":
      return `${asked}call changed${stood === null ? "" : ` from ${standingWords(stood)}`} to ${now}${board}${told}`;
    case "kept":
      return `${asked}call kept, ${now}${board}${told}`;
    case "decided":
      return `${asked}decided, ${now}${board}${told}`;
    case "no picture":
      return `${asked}no picture, ${now}${board}${told}`;
  }
}

const reviewerWords: Readonly<Record<Reviewer, string>> = {
  left: "video appeal by left",
  right: "video appeal by right",
  referee: "video review by the referee",
  "video-referee": "video review by the video-referee",
  "level score": "video review at the deciding touch",
};

function cardSentence({ to, card, for: offence }: EntryOf<"card">): string {
  const touch: Readonly<Record<Doer, string>> = {
    left: ": touch right",
    right: ": touch left",
    both: ": a touch each",
  };
  return `${card} card, ${to}${bracketed(offence)}${touchesFor(card) === 1 ? touch[to] : ""}`;
}

function stopSentence(entry: EntryOf<"stop">): string {
  const by = entry.by === undefined ? "" : `, asked for by ${stopperWords[entry.by]}`;
  const until = entry.until === undefined ? ", not over yet" : `, until ${formatTime(entry.until)}`;
  return `stop for ${reasonsOf(entry).join(" and ")}${by}${until}`;
}

const stopperWords = {
  left: "left",
  right: "right",
  referee: "the referee",
  "left assistant": "the left assistant",
  "right assistant": "the right assistant",
  table: "the table",
} as const;

function reasonsOf({ for: reasons }: EntryOf<"stop">): readonly string[] {
  return typeof reasons === "string" ? [reasons] : reasons;
}

function endSentence(entry: EntryOf<"end">, ledger: Ledger): string {
  const winner = winnerAt(entry, ledger);
  return `end of the bout (${entry.by})${winner === null ? "" : `: ${ledger.bout.fencers[winner].name} (${winner}) wins`}`;
}

function winnerAt(entry: EntryOf<"end">, ledger: Ledger): Side | null {
  return entry.winner ?? ledger.winner;
}

function placed({ left, right }: EntryOf<"platforms">): string {
  if (left !== undefined && right !== undefined) return "both";
  return left !== undefined ? "left only" : right !== undefined ? "right only" : "none";
}

function distanceSentence({ reference, to, change }: EntryOf<"distance">): string {
  const notches =
    change === undefined
      ? ""
      : `, ${change > 0 ? "+" : ""}${change} notch${Math.abs(change) === 1 ? "" : "es"}`;
  return `distance set${after(", arm of ", reference)}${after(", to the ", to)}${notches}`;
}

// ---- Words

function standingWords(standing: Standing): string {
  switch (standing) {
    case "left":
    case "right":
      return `touch ${standing}`;
    case "both":
      return "touch for both";
    case "none":
      return "no touch";
  }
}

function scoreWords([left, right]: Score): string {
  return `${left}:${right}`;
}

function inPeriod(period: number | "extra" | undefined): string {
  return period === undefined ? "" : period === "extra" ? ", extra minute" : `, period ${period}`;
}

function bracketed(words: string | undefined): string {
  return words === undefined || words === "" ? "" : ` (${words})`;
}

function after(joint: string, words: string | undefined): string {
  return words === undefined ? "" : joint + words;
}
