// What can be written at a place of the text, where that depends on the bout: actions as answers to the one before,
// the offences and the reasons for a stop that the rule edition knows. The schema offers the rest.

import { getLocation } from "jsonc-parser";
import type { Reading } from "../bout/read";
import type { Stretch } from "../bout/scan";
import { actions, canScore, doers, opponent, type Action, type Doer } from "../bout/words";
import { offencesFor, stopReasonsFor, type Edition, type Offence, type Study } from "../rules";

export interface Offer {
  /** As it is written, quotes and all. */
  readonly text: string;
  /** A few words beside it. */
  readonly detail: string;
  readonly says: string;
}

export interface Offers {
  /** What the chosen one takes the place of: the text value under the cursor, or nothing. */
  readonly replaces: Stretch;
  /** The likeliest first. */
  readonly offers: readonly Offer[];
}

/** Undefined where nothing depends on the bout. */
export function offersAt(reading: Reading, study: Study, offset: number): Offers | undefined {
  const { text, entries } = reading.scan;
  const { path, isAtPropertyKey, previousNode } = getLocation(text, offset);
  const [list, index, field] = path;
  if (isAtPropertyKey || list !== "log" || typeof index !== "number" || field === undefined) return undefined;
  const entry = entries[index];
  const offers = offersFor(path.slice(2), isRecord(entry) ? entry : {}, study);
  if (offers.length === 0) return undefined;
  const inside =
    previousNode?.type === "string" &&
    offset > previousNode.offset &&
    offset <= previousNode.offset + previousNode.length;
  const replaces = inside
    ? { offset: previousNode.offset, length: previousNode.length }
    : { offset, length: 0 };
  return { replaces, offers };
}

function offersFor(
  path: readonly (string | number)[],
  entry: Record<string, unknown>,
  { bout, edition }: Study,
): readonly Offer[] {
  const [field, place] = path;
  const list = listOfActions(path, entry);
  if (list !== undefined) return actionsAfter(list.before).map(plainly);
  if (entry["kind"] === "stop" && field === "for" && (typeof place === "number" || path.length === 1))
    return stopReasonsFor(edition).map(plainly);
  if (entry["kind"] === "card" && field === "for" && path.length === 1)
    return offencesFor(edition, bout.about.weapon)
      .toSorted((one, other) => one.group - other.group)
      .map((offence) => offenceOffer(offence, edition));
  return [];
}

function plainly(words: string): Offer {
  return { text: JSON.stringify(words), detail: "", says: "" };
}

function offenceOffer(offence: Offence, edition: Edition): Offer {
  const { name, group, annuls, offPiste, number, source, unverified } = offence;
  const { first, again } = edition.groups[group];
  const cards = first === again ? first : `${first}, then ${again}`;
  const says = [
    `Offence ${number === undefined ? "" : `${number} `}of group ${group}: ${cards}.`,
    annuls ? "A touch just scored by the offender is annulled." : "",
    offPiste === true ? "Committed by a person off the piste: no card of the fencer's." : "",
    `Source: ${source}.`,
    unverified === undefined ? "" : `Check the current book: ${unverified}.`,
  ];
  return {
    text: JSON.stringify(name),
    detail: `group ${group}: ${cards}${unverified === undefined ? "" : "; check the book"}`,
    says: says.filter((sentence) => sentence !== "").join(" "),
  };
}

// ---- Actions

/** The actions before the place in a list of them; undefined where the place is in no such list. */
function listOfActions(
  path: readonly (string | number)[],
  entry: Record<string, unknown>,
): { readonly before: readonly string[] } | undefined {
  const place = path.at(-1);
  const field = path.at(-2);
  if (typeof place !== "number" || (field !== "actions" && field !== "call")) return undefined;
  let list: unknown = entry;
  for (const key of path.slice(0, -1))
    list = typeof list === "object" && list !== null ? (list as Record<string, unknown>)[key] : undefined;
  const items: unknown[] = Array.isArray(list) ? list : [];
  return { before: items.slice(0, place).filter((item) => typeof item === "string") };
}

/** Every action, those that can follow at once first. */
function actionsAfter(before: readonly string[]): readonly string[] {
  const all = doers.flatMap((doer) => actions.map((action) => `${doer} ${action}`));
  return [...new Set([...answersTo(before), ...all])];
}

function answersTo(before: readonly string[]): readonly string[] {
  const last = before.at(-1);
  const doer = doers.find((one) => last?.startsWith(`${one} `) === true);
  if (last === undefined || doer === undefined)
    return (["left", "right", "both"] as const).map((one) => `${one} attack`);
  const action = last.slice(doer.length + 1);
  const [own, others]: readonly [readonly Action[], readonly Action[]] = isParry(action)
    ? [[before.some(isRiposte) ? "counter-riposte" : "riposte"], ["remise", "redoublement", "reprise"]]
    : canScore(action as Action)
      ? [
          ["remise", "redoublement", "reprise"],
          ["parry", "counter-attack", "stop hit", "lean back"],
        ]
      : [["attack", "compound attack"], ["attack"]];
  const byOwn = own.map((next) => `${doer} ${next}`);
  const byOther = others.map((next) => `${other(doer)} ${next}`);
  return isParry(action) ? [...byOwn, ...byOther] : [...byOther, ...byOwn];
}

function isParry(action: string): boolean {
  return action === "parry" || action === "counter-parry";
}

function isRiposte(words: string): boolean {
  return words.endsWith(" riposte") || words.endsWith(" counter-riposte");
}

function other(doer: Doer): Doer {
  return doer === "both" ? "both" : opponent(doer);
}

function isRecord(value: unknown): value is Record<string, unknown> {
  return typeof value === "object" && value !== null && !Array.isArray(value);
}
