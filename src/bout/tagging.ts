// What a tagging key means: the one change to the log it makes, given what is under the playhead. The phrase a key
// speaks of is the last one begun at or before the frame on screen, so there is no hidden state to lose.

import type { Change, FieldChange, Json } from "./edit";
import { failure, success, type Result } from "./result";
import type { Bout, EntryRecord } from "./read";
import type { EntryOf, Phrase } from "./schema";
import { formatTime, type Milliseconds } from "./time";
import {
  doneAction,
  sidesOf,
  stopReasons,
  type Action,
  type Award,
  type CardColour,
  type Doer,
  type Lamp,
  type PeriodNumber,
  type Reviewer,
  type Side,
  type stoppers,
} from "./words";
import { timeOf } from "./written";

/** The actions one key stands for: the first press writes the first, each further press refines it. */
export const actionKeys = {
  attack: ["attack", "compound attack", "counter-time"],
  counterAttack: ["counter-attack", "stop hit"],
  renewal: ["remise", "redoublement", "reprise"],
  line: ["point in line", "derobement"],
  parry: ["parry", "counter-parry", "beat", "taking the blade"],
  riposte: ["riposte", "counter-riposte"],
  lean: ["lean back", "lean in", "feint", "preparation"],
} as const satisfies Record<string, readonly Action[]>;
export type ActionKey = keyof typeof actionKeys;

export type Tagging =
  | { readonly do: "fence" }
  | { readonly do: "halt" }
  | { readonly do: "action"; readonly doer: Doer; readonly key: ActionKey }
  | { readonly do: "lamp"; readonly doer: Doer; readonly lamp: Lamp }
  | { readonly do: "no lamp" }
  | { readonly do: "award"; readonly award: "left" | "right" | "none" | "pending" }
  | { readonly do: "annul"; readonly side: Side }
  | { readonly do: "review"; readonly by: Reviewer }
  | { readonly do: "card"; readonly to: Doer }
  | { readonly do: "stop"; readonly by: (typeof stoppers)[number] }
  | { readonly do: "board" }
  | { readonly do: "note" }
  | { readonly do: "target" }
  | { readonly do: "star" }
  | { readonly do: "unsure" }
  | { readonly do: "distance" }
  | { readonly do: "period" }
  | { readonly do: "draw" }
  | { readonly do: "correction" }
  | { readonly do: "end" }
  | { readonly do: "take back" }
  | { readonly do: "delete" };

/** The same key with left and right exchanged, for a camera opposite the referee. */
export function mirrored(tagging: Tagging): Tagging {
  const swap = <T extends string>(word: T): T =>
    (word === "left" ? "right" : word === "right" ? "left" : word) as T;
  switch (tagging.do) {
    case "action":
    case "lamp":
      return { ...tagging, doer: swap(tagging.doer) };
    case "award":
      return { ...tagging, award: swap(tagging.award) };
    case "annul":
      return { ...tagging, side: swap(tagging.side) };
    case "review":
    case "stop":
      return { ...tagging, by: swap(tagging.by) } as Tagging;
    case "card":
      return { ...tagging, to: swap(tagging.to) };
    default:
      return tagging;
  }
}

/** What the ledger knows at the frame on screen. */
export interface Circumstances {
  readonly score: readonly [number, number];
  readonly period: PeriodNumber;
  /** The card a group 1 offence costs this side now. */
  readonly nextCard: (side: Side) => CardColour;
  /** Cards of the rule edition, in the order a repeated key goes through them. */
  readonly cards: readonly CardColour[];
}

/** What a key does: a change to the text, a field to write in next, or both. */
export interface Tagged {
  readonly change: Change | undefined;
  /** Field of the detail strip that takes the cursor, of the changed entry or of the one at `index`. */
  readonly write?: { readonly field: string; readonly index?: number };
}

/** A repeated key refines the entry it made while the playhead is within this time of it. */
const againWithin = 2000;

/** Works out what a key does at the frame on screen; a sentence where it can do nothing. */
export function tag(
  bout: Bout,
  tagging: Tagging,
  at: Milliseconds,
  now: Circumstances,
): Result<Tagged, string> {
  const time = formatTime(at);
  const inHand = lastUpTo(bout, at);
  const insert = (entry: { readonly kind: string; readonly [key: string]: Json }, write?: Tagged["write"]) =>
    success({ change: { do: "insert" as const, entry }, ...(write === undefined ? {} : { write }) });
  const phrase = lastPhrase(bout, at);
  const noPhrase = failure("No phrase has begun before this frame: start one first.");

  switch (tagging.do) {
    case "fence":
      return phrase?.entry.start === at
        ? failure("A phrase already starts at this frame.")
        : insert({ kind: "phrase", start: time });
    case "halt":
      return halt(bout, at);
    case "action":
      return phrase === undefined ? noPhrase : success(action(phrase, tagging.doer, tagging.key));
    case "lamp":
      return phrase === undefined ? noPhrase : success(lamp(phrase, tagging.doer, tagging.lamp));
    case "no lamp":
      return phrase === undefined ? noPhrase : success(change(phrase, set("lamps", {})));
    case "award":
      return award(bout, at, tagging.award);
    case "annul": {
      if (phrase === undefined) return noPhrase;
      const taken = phrase.entry.annulled === tagging.side;
      return success(change(phrase, set("annulled", taken ? undefined : tagging.side)));
    }
    case "review":
      return review(bout, at, tagging.by);
    case "card": {
      if (inHand?.entry.kind === "card" && inHand.entry.to === tagging.to && again(inHand, at))
        return success(change(inHand, set("card", following(now.cards, inHand.entry.card))));
      const card = now.nextCard(sidesOf(tagging.to)[0] ?? "left");
      return insert({ kind: "card", at: time, to: tagging.to, card });
    }
    case "stop": {
      if (inHand?.entry.kind === "stop" && inHand.entry.by === tagging.by && again(inHand, at)) {
        const reason =
          typeof inHand.entry.for === "string" ? inHand.entry.for : (inHand.entry.for[0] ?? "other");
        return success(change(inHand, set("for", [following(stopReasons, reason)])));
      }
      return insert({ kind: "stop", at: time, for: ["re-centre"], by: tagging.by });
    }
    case "board":
      return insert({ kind: "board", at: time, score: [...now.score] }, { field: "score" });
    case "note":
      return inHand?.entry.kind === "note" && inHand.entry.at === at
        ? success({ change: undefined, write: { field: "text", index: inHand.index } })
        : insert({ kind: "note", at: time, text: "" }, { field: "text" });
    case "target":
      return phrase === undefined
        ? noPhrase
        : success({ change: undefined, write: { field: "target", index: phrase.index } });
    case "star":
      return phrase === undefined
        ? noPhrase
        : success(change(phrase, set("star", phrase.entry.star === true ? undefined : true)));
    case "unsure":
      return phrase === undefined
        ? noPhrase
        : success(change(phrase, set("sure", phrase.entry.sure === false ? undefined : false)));
    case "distance":
      return insert({ kind: "distance", at: time }, { field: "reference" });
    case "period": {
      const next = now.period === 1 ? 2 : now.period === 2 ? 3 : "extra";
      return insert({ kind: "period", at: time, number: next }, { field: "number" });
    }
    case "draw":
      return insert({ kind: "draw", at: time }, { field: "to" });
    case "correction":
      return insert({ kind: "correction", at: time, score: [...now.score] }, { field: "score" });
    case "end":
      return insert(
        {
          kind: "end",
          at: time,
          by: "touches",
          ...(now.score[0] === now.score[1]
            ? {}
            : { winner: now.score[0] > now.score[1] ? "left" : "right" }),
        },
        { field: "by" },
      );
    case "take back": {
      if (phrase === undefined) return noPhrase;
      const count = phrase.entry.actions?.length ?? 0;
      if (count === 0) return failure("This phrase has no action to take back.");
      return success(
        change(
          phrase,
          count === 1 ? set("actions", undefined) : { path: ["actions", count - 1], value: undefined },
        ),
      );
    }
    case "delete":
      return inHand === undefined
        ? failure("There is no entry at or before this frame.")
        : success({ change: { do: "delete", index: inHand.index } });
  }
}

/** The last entry whose time is not later than `at`: the one the keys speak of. */
export function lastUpTo(bout: Bout, at: Milliseconds): EntryRecord | undefined {
  return bout.log.findLast((record) => timeOf(record.entry) <= at);
}

interface PhraseRecord extends EntryRecord {
  readonly entry: Phrase;
}

function lastPhrase(bout: Bout, at: Milliseconds): PhraseRecord | undefined {
  return bout.log.findLast(
    (record): record is PhraseRecord => record.entry.kind === "phrase" && record.entry.start <= at,
  );
}

function halt(bout: Bout, at: Milliseconds): Result<Tagged, string> {
  const open = bout.log.findLast(
    ({ entry }) =>
      (entry.kind === "phrase" && entry.start <= at) || (entry.kind === "stop" && entry.at <= at),
  );
  if (open?.entry.kind === "phrase" && open.entry.halt === undefined)
    return open.entry.start === at
      ? failure("The phrase starts at this very frame; let it run before the halt.")
      : success(change(open, set("halt", formatTime(at))));
  if (open?.entry.kind === "stop" && open.entry.until === undefined)
    return success(change(open, set("until", formatTime(at))));
  return failure("No phrase or stop is open at this frame.");
}

function action(phrase: PhraseRecord, doer: Doer, key: ActionKey): Tagged {
  const choices: readonly Action[] = actionKeys[key];
  const done = phrase.entry.actions ?? [];
  const last = done[done.length - 1];
  const lastDone = last === undefined ? undefined : doneAction(last);
  if (
    lastDone !== undefined &&
    lastDone.doer === doer &&
    choices.includes(lastDone.action) &&
    choices.length > 1
  )
    return change(phrase, {
      path: ["actions", done.length - 1],
      value: `${doer} ${following(choices, lastDone.action)}`,
    });
  return change(phrase, { path: ["actions", done.length], value: `${doer} ${choices[0] ?? "attack"}` });
}

function lamp(phrase: PhraseRecord, doer: Doer, which: Lamp): Tagged {
  const lit = phrase.entry.lamps;
  const wanted = sidesOf(doer);
  const allLit = wanted.every((side) => lit?.[side] === which);
  return change(
    phrase,
    ...wanted.map((side) => ({ path: ["lamps", side], value: allLit ? undefined : which })),
  );
}

function award(
  bout: Bout,
  at: Milliseconds,
  pressed: "left" | "right" | "none" | "pending",
): Result<Tagged, string> {
  const target = bout.log.findLast(
    ({ entry }) => (entry.kind === "phrase" || entry.kind === "review") && timeOf(entry) <= at,
  );
  if (target?.entry.kind === "review") return reviewAward(bout, target, target.entry, pressed);
  if (target?.entry.kind !== "phrase")
    return failure("No phrase has begun before this frame: start one first.");
  const phrase = target.entry;
  const given = phrase.award;
  if (pressed === "none") {
    if (given === "none") {
      const reasons = ["simultaneous", "undecided", "off-target", "no lamp", undefined] as const;
      return success(
        change(target, set("because", following(reasons, phrase.because as (typeof reasons)[number]))),
      );
    }
    const because = reasonFromLamps(phrase);
    return success(
      change(target, set("award", "none"), ...(because === undefined ? [] : [set("because", because)])),
    );
  }
  const clear = phrase.because === undefined ? [] : [set("because", undefined)];
  const next = combined(given, pressed, bout.about.weapon === "epee");
  return success(change(target, set("award", next), ...clear));
}

/** Pressing the same award again takes it back; at épée the other side's makes it a double touch. */
function combined(
  given: Award | undefined,
  pressed: "left" | "right" | "pending",
  epee: boolean,
): Award | undefined {
  if (given === pressed) return undefined;
  if (epee && pressed !== "pending" && (given === "left" || given === "right")) return "both";
  return pressed;
}

function reasonFromLamps(phrase: Phrase): "off-target" | "no lamp" | undefined {
  if (phrase.lamps === undefined) return undefined;
  const lit = [phrase.lamps.left ?? [], phrase.lamps.right ?? []].flat();
  return lit.length === 0 ? "no lamp" : lit.includes("off-target") ? "off-target" : undefined;
}

function review(bout: Bout, at: Milliseconds, by: Reviewer): Result<Tagged, string> {
  const inHand = lastUpTo(bout, at);
  if (inHand?.entry.kind === "review" && inHand.entry.by === by && again(inHand, at)) {
    const result =
      inHand.entry.result === "no picture" ? called(bout, inHand, inHand.entry.award) : "no picture";
    return success(change(inHand, set("result", result)));
  }
  const phrase = lastPhrase(bout, at);
  if (phrase === undefined) return failure("There is no phrase before this frame to review.");
  const stands = announced(bout, phrase, at);
  return success({
    change: {
      do: "insert",
      entry: {
        kind: "review",
        at: formatTime(at),
        by,
        result: stands === undefined ? "decided" : "kept",
        award: stands ?? "none",
      },
    },
  });
}

function reviewAward(
  bout: Bout,
  record: EntryRecord,
  entry: EntryOf<"review">,
  pressed: "left" | "right" | "none" | "pending",
): Result<Tagged, string> {
  if (pressed === "pending") return failure("A review says what stands: left, right or no touch.");
  const epee = bout.about.weapon === "epee";
  const stands = pressed === "none" ? "none" : epee && isOther(entry.award, pressed) ? "both" : pressed;
  return success(change(record, set("result", called(bout, record, stands)), set("award", stands)));
}

function isOther(award: Award | undefined, pressed: Side): boolean {
  return (award === "left" || award === "right") && award !== pressed;
}

/** kept, changed or decided: what a review that leaves `stands` did to the call before it. */
function called(bout: Bout, review: EntryRecord, stands: Award | undefined): "kept" | "changed" | "decided" {
  const phrase = bout.log.findLast(
    (record): record is PhraseRecord => record.entry.kind === "phrase" && record.index < review.index,
  );
  if (phrase === undefined) return "decided";
  const before = announced(bout, phrase, undefined, review.index);
  return before === undefined ? "decided" : before === stands ? "kept" : "changed";
}

/** What stands for a phrase before a time or an entry: its award, or that of the reviews so far; undefined while pending. */
function announced(
  bout: Bout,
  phrase: PhraseRecord,
  before: Milliseconds | undefined,
  beforeIndex = Infinity,
): Exclude<Award, "pending"> | undefined {
  let stands = phrase.entry.award;
  for (const { entry, index } of bout.log) {
    if (index <= phrase.index) continue;
    if (index >= beforeIndex || entry.kind === "phrase" || (before !== undefined && timeOf(entry) > before))
      break;
    if (entry.kind === "review" && entry.result !== "no picture" && entry.award !== undefined)
      stands = entry.award;
  }
  return stands === "pending" ? undefined : stands;
}

function again(record: EntryRecord, at: Milliseconds): boolean {
  return at - timeOf(record.entry) <= againWithin;
}

function following<T>(choices: readonly T[], current: T): T {
  return choices[(choices.indexOf(current) + 1) % choices.length] ?? current;
}

function set(field: string, value: Json | undefined): FieldChange {
  return { path: [field], value };
}

function change(record: EntryRecord, ...fields: FieldChange[]): Tagged {
  return { change: { do: "change", index: record.index, fields } };
}
