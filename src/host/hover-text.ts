// What is said of an entry of the log where the mouse rests on it: what happened, and how the bout stood before and after.

import type { CardColour, Side } from "../bout/words";
import { sides } from "../bout/words";
import { nextCost, type Ledger, type Row, type Score, type State } from "../rules";
import { callSentence } from "../rules/call";

/** Paragraphs of plain text. */
export function hoverText(row: Row, ledger: Ledger): readonly string[] {
  const sentence = callSentence(row, ledger);
  return [
    row.kind === "phrase" ? `Phrase ${row.phrase.number}: ${sentence}` : capital(sentence),
    scoreLine(row),
    ...sides.map((side) => fencerLine(side, row.state, ledger)),
    periodLine(row.state, ledger),
  ];
}

/** The same as Markdown that shows exactly these characters: nothing in it is a link, a picture, HTML or a heading. */
export function asMarkdown(paragraphs: readonly string[]): string {
  return paragraphs.map(literally).join("\n\n");
}

/** Markdown takes a backslash before any punctuation for that character itself (CommonMark, "Backslash escapes"). */
function literally(text: string): string {
  return text
    .replace(/\p{Cc}|\s/gu, " ")
    .trim()
    .replace(/[!-/:-@[-`{-~]/g, "\\$&");
}

function scoreLine({ before, state }: Row): string {
  const [was, is] = [scoreWords(before.score), scoreWords(state.score)];
  return was === is ? `Score ${is}, unchanged` : `Score ${was} before, ${is} after`;
}

function fencerLine(side: Side, { cards, appeals }: State, { bout, edition }: Ledger): string {
  const { card, touches } = nextCost(edition, cards[side]);
  const cost = `the next offence of group 1 costs a ${card} card${touches === 1 ? " and a touch" : ""}`;
  const left = appeals === null ? "" : `; ${counted(appeals[side], "appeal")} left`;
  return `${bout.fencers[side].name} (${side}): ${held(cards[side])}; ${cost}${left}`;
}

function held(cards: readonly CardColour[]): string {
  if (cards.length === 0) return "no card";
  const counts = new Map<CardColour, number>();
  for (const card of cards) counts.set(card, (counts.get(card) ?? 0) + 1);
  return [...counts].map(([card, count]) => counted(count, `${card} card`)).join(", ");
}

function periodLine({ period, fencingInPeriod, fencing }: State, { bout, edition }: Ledger): string {
  const { periodSeconds, extraSeconds } = edition.formats[bout.about.format];
  const limit = (period === "extra" ? extraSeconds : periodSeconds).value;
  const of = limit === null ? "" : ` of ${clock(limit * 1000)}`;
  const whole = fencing === fencingInPeriod ? "" : `, ${clock(fencing)} in the whole bout`;
  return `${period === "extra" ? "Extra minute" : `Period ${period}`}: ${clock(fencingInPeriod)}${of} fenced${whole}`;
}

/** Minutes and seconds, with tenths where there are any: "2:41", "0:12.4". */
function clock(milliseconds: number): string {
  const tenths = Math.round(milliseconds / 100);
  const seconds = String(Math.floor(tenths / 10) % 60).padStart(2, "0");
  const rest = tenths % 10 === 0 ? "" : `.${tenths % 10}`;
  return `${Math.floor(tenths / 600)}:${seconds}${rest}`;
}

function counted(count: number, what: string): string {
  return `${count} ${what}${count === 1 ? "" : "s"}`;
}

function scoreWords([left, right]: Score): string {
  return `${left}:${right}`;
}

function capital(words: string): string {
  return words.charAt(0).toUpperCase() + words.slice(1);
}
