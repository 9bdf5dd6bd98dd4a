// What a sheet compares within one bout: left with right, its halves, and the order of its touches.

import type { Side } from "../bout/words";
import { hasTouch, type Ledger, type Sided } from "../rules";
import { judged, tryOrder, tryPaired, tryRates, tryShares, type Try } from "./comparing";
import type {
  BothLamps,
  Comparisons,
  Conversion,
  FamilyRow,
  FamilyTable,
  OpenedTable,
  Reviews,
  TouchOrder,
} from "./model";
import { openedTable } from "./opened";
import { entriesOf, type CountedPhrase } from "./phrases";
import { wilson, type Entries } from "./rates";

export interface Compared {
  readonly opened: Sided<OpenedTable>;
  readonly families: Sided<FamilyTable>;
  readonly conversion: Conversion;
  readonly bothLamps: BothLamps;
  readonly reviews: Reviews;
  readonly order: TouchOrder | null;
}

/** All of them judged together. */
export function comparisonsOf(
  ledger: Ledger,
  phrases: readonly CountedPhrase[],
  figures: Compared,
): Comparisons {
  const names = namesOf(ledger);
  return judged([
    ...leftWithRight(phrases, figures, names),
    ...halves(phrases, "left", names.left),
    ...halves(phrases, "right", names.right),
    ...order(figures.order, names),
  ]);
}

/** The fencers' names; their sides where both have the same. */
export function namesOf({ bout: { fencers } }: Ledger): Sided<string> {
  const [left, right] = [fencers.left.name.trim(), fencers.right.name.trim()];
  return {
    left: left === right || left === "" ? "left" : left,
    right: left === right || right === "" ? "right" : right,
  };
}

function leftWithRight(
  phrases: readonly CountedPhrase[],
  { opened, families, conversion, bothLamps, reviews }: Compared,
  names: Sided<string>,
): readonly Try[] {
  const own = { left: opened.left.own, right: opened.right.own };
  const pair = <T>(rate: (side: Side) => T) =>
    [
      { label: names.left, rate: rate("left") },
      { label: names.right, rate: rate("right") },
    ] as const;
  const whenOpened = (side: Side) =>
    tryPaired(
      `opened.${side}`,
      `phrases ${names[side]} opened: whose touch`,
      { label: names[side], entries: touches(own[side].outcomes, "for") },
      { label: names[side === "left" ? "right" : "left"], entries: touches(own[side].outcomes, "against") },
      own[side].phrases.length,
    );
  const won = (side: Side) => entriesOf(phrases.filter(({ row }) => hasTouch(row.phrase.stands, side)));
  const { entries: toOpener, of: given } = bothLamps.toEitherOpener;
  const toOther = givenToOther(phrases, toOpener);
  return [
    ...tryPaired(
      "touches",
      "touches in all phrases",
      { label: names.left, entries: won("left") },
      { label: names.right, entries: won("right") },
      phrases.length,
    ),
    ...whenOpened("left"),
    ...whenOpened("right"),
    ...tryShares("opened.for", "touch when opening", ...pair((side) => own[side].outcomes.for)),
    ...tryShares(
      "opened.against",
      "touch against when opening",
      ...pair((side) => own[side].outcomes.against),
    ),
    ...tryPaired(
      "both-lamps.opener",
      "both lamps, one side opened: to whom",
      { label: "the one who opened", entries: toOpener },
      { label: "the other", entries: toOther },
      given,
    ),
    ...(conversion.sides === null ? [] : familyTries(families, names)),
    ...tryShares("appeals", "appeals granted", ...pair((side) => reviews.sides[side].success)),
  ];
}

/** Phrases in which both used the family belong to neither: the two groups must not overlap. */
function familyTries(families: Sided<FamilyTable>, names: Sided<string>): readonly Try[] {
  return families.left.flatMap((left) => {
    const right = families.right.find(({ family }) => family === left.family);
    if (right === undefined) return [];
    return tryShares(
      `family.${left.family}`,
      `touch by ${left.family}, where one side alone used it`,
      { label: names.left, rate: alone(left, right) },
      { label: names.right, rate: alone(right, left) },
    );
  });
}

function alone(row: FamilyRow, other: FamilyRow) {
  const shared = new Set(other.phrases);
  const own = (entries: Entries) => entries.filter((entry) => !shared.has(entry));
  return wilson(own(row.scored.entries), own(row.phrases).length);
}

/** Touches of the outcome, doubles included: they count for both. */
function touches(outcomes: OpenedTable["own"]["outcomes"], outcome: "for" | "against"): Entries {
  return [...outcomes[outcome].entries, ...outcomes.each.entries];
}

/** Both-lamp phrases that one side opened and the other was given. */
function givenToOther(phrases: readonly CountedPhrase[], toOpener: Entries): Entries {
  const given = new Set(toOpener);
  return entriesOf(
    phrases.filter(
      ({ entry, opener, row: { phrase } }) =>
        phrase.bothLamps &&
        (opener === "left" || opener === "right") &&
        (phrase.stands === "left" || phrase.stands === "right") &&
        !given.has(entry),
    ),
  );
}

/** Halves by number of phrases; the middle one of an odd number belongs to the first half. */
export function halvesOf(
  phrases: readonly CountedPhrase[],
): readonly [readonly CountedPhrase[], readonly CountedPhrase[]] {
  const middle = Math.ceil(phrases.length / 2);
  return [phrases.slice(0, middle), phrases.slice(middle)];
}

function halves(phrases: readonly CountedPhrase[], side: Side, name: string): readonly Try[] {
  const [first, second] = halvesOf(phrases);
  const opened = [openedTable(first, side).own, openedTable(second, side).own] as const;
  const pair = (outcome: "for" | "against") =>
    [
      { label: "first half", rate: opened[0].outcomes[outcome] },
      { label: "second half", rate: opened[1].outcomes[outcome] },
    ] as const;
  return [
    ...tryShares(`halves.${side}.opened.for`, `${name}, touch when opening`, ...pair("for")),
    ...tryShares(`halves.${side}.opened.against`, `${name}, touch against when opening`, ...pair("against")),
    ...tryRates(
      `halves.${side}.minute`,
      `${name}, touches a minute of fencing`,
      paced("first half", first, side),
      paced("second half", second, side),
    ),
  ];
}

/** The side's touches and the time fenced in these phrases. */
export function paced(label: string, phrases: readonly CountedPhrase[], side: Side) {
  return {
    label,
    entries: entriesOf(phrases.filter(({ row }) => hasTouch(row.phrase.stands, side))),
    minutes: phrases.reduce((sum, { row }) => sum + row.phrase.fencing, 0) / 60_000,
  };
}

function order(found: TouchOrder | null, names: Sided<string>): readonly Try[] {
  if (found === null) return [];
  const { runs, longest, p, touches } = found;
  const all = touches.left.length + touches.right.length;
  const longestOf = (side: Side) =>
    tryOrder(`order.longest.${side}`, `longest run of ${names[side]}`, longest[side], all, p.longest[side]);
  return [
    ...tryOrder("order.runs", "runs of touches", runs, all, p.runs),
    ...longestOf("left"),
    ...longestOf("right"),
  ];
}
