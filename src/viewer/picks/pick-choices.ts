// Which parts a pick can have in this bout, and which choices each part offers: only words that occur in the bout, so
// that nobody picks what can't be there.

import { doneAction, families, familyOf, type ActionWords, type Family } from "../../bout/words";
import type { PickParts } from "../../messages/picks";
import type { Head, Item } from "../../messages/scene";

export interface PickChoice {
  readonly value: string | number | boolean;
  readonly words: string;
}

export interface PickQuestion {
  /** Name of the part in the pick. */
  readonly part: string;
  readonly words: string;
  /** Said while nothing is chosen. */
  readonly none: string;
  readonly choices: readonly PickChoice[];
  /** Takes several: any of them will do. */
  readonly several: boolean;
}

/** The questions of the panel for this bout, in the order a phrase goes. A part that nothing in the bout can answer is
 * left out, unless the pick asks for it already. */
export function pickQuestions(head: Head, items: readonly Item[], pick: PickParts): readonly PickQuestion[] {
  const seen = wordsIn(items);
  const [left, right] = head.names;
  const seenFrom = pick["fencer"] !== undefined;
  const who = (more: readonly (readonly [string, string])[]): PickChoice[] => [
    { value: "left", words: `${left} (left)` },
    { value: "right", words: `${right} (right)` },
    ...(seenFrom ? [said("own", "the fencer chosen"), said("opponent", "the opponent")] : []),
    ...more.map(([value, words]) => ({ value, words })),
  ];
  const doing = (value: string): PickChoice => ({ value, words: actionSaid(value, head) });
  const questions: PickQuestion[] = [
    one("fencer", "seen from", "either fencer", [said(left, left), said(right, right)]),
    many(
      "opener",
      "opened by",
      "anybody",
      who([
        ["both", "both at once"],
        ["nobody", "nobody"],
        ["untagged", "not told"],
      ]),
    ),
    many("actions", "with the action", "any", [
      ...seen.bareActions.map((value) => said(value, `${value}, by either`)),
      ...seen.actions.map(doing),
    ]),
    many(
      "families",
      "with an action of the kind",
      "any",
      seen.families.map((value) => said(value, value)),
    ),
    many(
      "scored",
      "touch by",
      "any action",
      seen.bareScoring.map((value) => said(value, value)),
    ),
    many(
      "scoredFamilies",
      "touch by an action of the kind",
      "any",
      seen.families.map((value) => said(value, value)),
    ),
    many(
      "award",
      "touch for",
      "whoever",
      who([
        ["both", "both (double)"],
        ["none", "nobody"],
        ["waiting", "not called yet"],
      ]),
    ),
    one("bothLamps", "valid lamps", "any", [
      { value: true, words: "on both sides" },
      { value: false, words: "not on both sides" },
    ]),
    many("review", "video review", "with or without", [
      said("any", "with a review"),
      said("none", "without"),
      ...seen.reviews.map((value) => said(value, value)),
    ]),
    many(
      "reviewBy",
      "review asked by",
      "anybody",
      seen.reviewers.map((value) => said(value, nameOf(value, head))),
    ),
    many("card", "card after it", "with or without", [
      ...(seen.cards.length === 0 ? [] : [said("any", "any card")]),
      ...seen.cards.map((value) => said(value, value)),
    ]),
    many("cardTo", "card to", "whoever", seen.cards.length === 0 ? [] : who([])),
    many("stop", "stop after it", "with or without", [
      ...(seen.stops.length === 0 ? [] : [said("any", "any stop")]),
      ...seen.stops.map((value) => said(value, value)),
    ]),
    many(
      "periods",
      "in period",
      "any",
      seen.periods.map((value) => ({ value, words: String(value) })),
    ),
    many(
      "targets",
      "target",
      "anywhere",
      seen.targets.map((value) => said(value, value)),
    ),
    many(
      "tags",
      "with your word",
      "any",
      seen.tags.map((value) => said(value, value)),
    ),
    many(
      "numbers",
      "phrase number",
      "any",
      seen.numbers.map((value) => ({ value, words: String(value) })),
    ),
    one("star", "star", "with or without", [
      { value: true, words: "starred" },
      { value: false, words: "not starred" },
    ]),
    one("unsure", "sure of it", "or not", [
      { value: true, words: "not sure" },
      { value: false, words: "sure" },
    ]),
  ];
  return questions.filter(
    ({ part, choices }) =>
      choices.length > 1 || (choices.length === 1 && part !== "fencer") || pick[part] !== undefined,
  );
}

/** The parts of a pick answered so, as a list. */
export function answersOf(pick: PickParts, part: string): readonly (string | number | boolean)[] {
  const value = pick[part];
  return [value ?? []]
    .flat()
    .filter((one) => typeof one === "string" || typeof one === "number" || typeof one === "boolean");
}

/** The pick with one answer more, or taken away. A part without answers goes. */
export function withAnswer(
  pick: PickParts,
  { part, several }: Pick<PickQuestion, "part" | "several">,
  value: string | number | boolean,
  wanted: boolean,
): PickParts {
  const others = several ? answersOf(pick, part).filter((one) => one !== value) : [];
  const answers = wanted ? [...others, value] : others;
  const { [part]: _, ...rest } = pick;
  // Seen from nobody there is no own side and no opponent.
  const kept = part === "fencer" && answers.length === 0 ? withoutSeenFrom(rest) : rest;
  const [only] = answers;
  if (only === undefined) return kept;
  return { ...kept, [part]: several ? [...answers] : only };
}

function withoutSeenFrom(pick: PickParts): PickParts {
  const relative = (value: unknown): boolean => typeof value === "string" && /^(own|opponent)\b/.test(value);
  const kept: PickParts = {};
  for (const [part, value] of Object.entries(pick)) {
    const answers = [value].flat().filter((one) => !relative(one));
    if (answers.length > 0) kept[part] = Array.isArray(value) ? answers : value;
  }
  return kept;
}

/** "17 phrases, 1 minute 12 seconds" of the picked items. */
export function countAndLength(items: readonly Item[]): string {
  if (items.length === 0) return "no phrase";
  const milliseconds = items.reduce((sum, { at, until }) => sum + Math.max(0, (until ?? at) - at), 0);
  return `${items.length} ${items.length === 1 ? "phrase" : "phrases"}, ${lengthSaid(milliseconds)}`;
}

/** Milliseconds as words: "8 seconds", "1 minute 12 seconds". */
export function lengthSaid(milliseconds: number): string {
  const whole = Math.round(milliseconds / 1000);
  const count = (value: number, word: string) => `${value} ${word}${value === 1 ? "" : "s"}`;
  const minutes = Math.floor(whole / 60);
  const seconds = whole % 60;
  if (minutes === 0) return count(seconds, "second");
  return seconds === 0 ? count(minutes, "minute") : `${count(minutes, "minute")} ${count(seconds, "second")}`;
}

/** The picked phrase before or after a time; undefined at either end. */
export function neighbourPicked(picked: readonly Item[], at: number, direction: -1 | 1): Item | undefined {
  return direction > 0 ? picked.find((item) => item.at > at) : picked.findLast((item) => item.at < at);
}

function wordsIn(items: readonly Item[]) {
  const phrases = items.filter(({ kind }) => kind === "phrase");
  const actions = sorted(phrases.flatMap((item) => item.actions));
  const bare = actions.map((words) => doneAction(words as ActionWords).action);
  const kinds = new Set(bare.map(familyOf));
  const field = (kind: string, name: string): string[] =>
    sorted(
      items
        .filter((item) => item.kind === kind)
        .flatMap(({ fields }) => [fields[name] ?? []].flat())
        .filter((value) => typeof value === "string"),
    );
  return {
    actions,
    bareActions: sorted(bare),
    bareScoring: sorted(bare.filter((action) => familyOf(action) !== undefined)),
    families: (Object.keys(families) as Family[]).filter((family) => kinds.has(family)),
    reviews: field("review", "result"),
    reviewers: field("review", "by"),
    cards: field("card", "card"),
    stops: field("stop", "for"),
    targets: field("phrase", "target"),
    tags: field("phrase", "tags"),
    // As the ledger counts phrases: from 1, in the order of the log.
    numbers: phrases.map((_, place) => place + 1),
    periods: [...new Set(items.map(({ after }) => after.period))],
  };
}

function actionSaid(words: string, head: Head): string {
  const { doer, action } = doneAction(words as ActionWords);
  return `${action}, ${doer === "both" ? "both at once" : nameOf(doer, head)}`;
}

function nameOf(word: string, { names }: Head): string {
  return word === "left" ? `${names[0]} (left)` : word === "right" ? `${names[1]} (right)` : word;
}

function said(value: string, words: string): PickChoice {
  return { value, words };
}
function one(part: string, words: string, none: string, choices: readonly PickChoice[]): PickQuestion {
  return { part, words, none, choices, several: false };
}
function many(part: string, words: string, none: string, choices: readonly PickChoice[]): PickQuestion {
  return { part, words, none, choices, several: true };
}
function sorted<Word extends string>(words: readonly Word[]): Word[] {
  return [...new Set(words)].sort((first, second) => first.localeCompare(second, "en"));
}
