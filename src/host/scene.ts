// What the viewer gets to see of a bout file: the text read, counted and put into words, item by item, and which items
// changed since the viewer last got them.

import type { Reading } from "../bout/read";
import type { Entry } from "../bout/schema";
import { sides, type Lamp } from "../bout/words";
import { timeOf } from "../bout/written";
import { driftStudyOf, tracksOf } from "../figures";
import type { Head, Item, Json, Standing } from "../messages/scene";
import {
  nextCost,
  textFindings,
  type Edition,
  type Ledger,
  type Row,
  type State,
  type Study,
} from "../rules";
import { callLabel, callSentence, callSide } from "../rules/call";

export interface SceneContent {
  readonly head: Head;
  readonly items: readonly Item[];
  /** What the items were made of. */
  readonly study: Study | undefined;
}

/** `study` is that of the reading; undefined where it holds no bout. `writable` is false for a file that can't be saved.
 * Items of the scene `before` that still hold are taken over as they are, which saves time in a long bout. */
export function sceneOf(
  reading: Reading,
  study: Study | undefined,
  writable: boolean,
  before?: SceneContent,
): SceneContent {
  const problems = problemsOf(reading, study);
  const editable = reading.editable && writable;
  if (study === undefined) return { head: { ...unreadable, problems }, items: [], study };
  const { bout, edition, ledger } = study;
  const { about, fencers } = bout;
  const standing = standings(edition);
  const head: Head = {
    readable: true,
    editable,
    title: about.title ?? `${fencers.left.name}, ${fencers.right.name}`,
    weapon: about.weapon,
    mirrored: about.view === "opposite",
    names: [fencers.left.name, fencers.right.name],
    offences: edition.offences
      .filter(({ weapons }) => weapons?.includes(about.weapon) ?? true)
      .map(({ name, group }) => ({ name, group })),
    problems,
    before: standing(ledger.start),
    drift: driftLine(ledger),
    poses: corners(ledger),
    tracks: tracks(ledger),
    fits: fitsOf(ledger),
  };
  const findings = findingsByEntry(study);
  const items = ledger.rows.map((row, position): Item => {
    const found = findings.get(row.record.index);
    const old = before?.study?.edition === edition ? before.items[position] : undefined;
    const oldRow = before?.study?.ledger.rows[position];
    if (found === undefined && old?.findings.length === 0 && oldRow !== undefined && holds(oldRow, row))
      return old;
    return {
      ...plainItem(row, ledger),
      ...phraseParts(row),
      after: standing(row.state),
      findings: found ?? [],
      fields: fieldsOf(reading.scan.entries[row.record.index], row.entry),
    };
  });
  return { head, items, study };
}

/** Whether what was said of one row holds for the other. An entry is the same object while its text is the same. */
function holds(before: Row, now: Row): boolean {
  if (before.entry !== now.entry || before.record.index !== now.record.index) return false;
  if (!sameState(before.state, now.state)) return false;
  switch (now.kind) {
    case "phrase": {
      if (before.kind !== "phrase") return false;
      const { number, stands, counts, reviews } = now.phrase;
      const old = before.phrase;
      // With reviews the sentence tells of other rows too.
      return (
        reviews.length + old.reviews.length === 0 &&
        number === old.number &&
        stands === old.stands &&
        counts === old.counts
      );
    }
    case "review":
      return (
        before.kind === "review" &&
        before.of === now.of &&
        before.stood === now.stood &&
        before.stands === now.stands
      );
    case "end":
      // Tells of the winner, who follows from the whole log.
      return false;
    default:
      return true;
  }
}

function sameState(one: State, other: State): boolean {
  return (
    one === other ||
    (one.score[0] === other.score[0] &&
      one.score[1] === other.score[1] &&
      one.period === other.period &&
      one.fencingInPeriod === other.fencingInPeriod &&
      one.appeals?.left === other.appeals?.left &&
      one.appeals?.right === other.appeals?.right &&
      alike(one.cards, other.cards))
  );
}

/** The stretch of items that differ; both lists are alike before and after it. */
export function spliceOf(
  before: readonly Item[],
  after: readonly Item[],
): { readonly start: number; readonly remove: number; readonly add: Item[] } {
  const shorter = Math.min(before.length, after.length);
  let start = 0;
  while (start < shorter && alike(before[start], after[start])) start++;
  let same = 0;
  while (same < shorter - start && alike(before.at(-1 - same), after.at(-1 - same))) same++;
  return { start, remove: before.length - start - same, add: after.slice(start, after.length - same) };
}

const nothing: Standing = {
  score: [0, 0],
  appeals: [null, null],
  cards: [[], []],
  cost: ["", ""],
  period: 1,
  fenced: 0,
};

const unreadable: Omit<Head, "problems"> = {
  readable: false,
  editable: false,
  title: "",
  weapon: null,
  mirrored: false,
  names: ["", ""],
  offences: [],
  before: nothing,
  drift: [],
  poses: [],
  tracks: [],
  fits: [],
};

function problemsOf(reading: Reading, study: Study | undefined): Head["problems"] {
  return (study?.findings ?? textFindings(reading))
    .filter(({ entry }) => entry === undefined)
    .map(({ severity, message, line, column }) => ({
      severity,
      message,
      line: line ?? 1,
      column: column ?? 1,
    }));
}

function findingsByEntry({ findings }: Study): ReadonlyMap<number, Item["findings"]> {
  const byEntry = new Map<number, Item["findings"]>();
  for (const { entry, severity, message } of findings) {
    if (entry === undefined) continue;
    const list = byEntry.get(entry) ?? [];
    list.push({ severity, message });
    byEntry.set(entry, list);
  }
  return byEntry;
}

/** Words for a state of the ledger; neighbouring entries mostly share theirs. */
function standings(edition: Edition): (state: State) => Standing {
  const known = new Map<State, Standing>();
  return (state) => {
    const before = known.get(state);
    if (before !== undefined) return before;
    const { score, appeals, cards, period, fencingInPeriod } = state;
    const standing: Standing = {
      score: [...score],
      appeals: [appeals?.left ?? null, appeals?.right ?? null],
      cards: [[...cards.left], [...cards.right]],
      cost: [costWords(edition, cards.left), costWords(edition, cards.right)],
      period,
      fenced: fencingInPeriod,
    };
    known.set(state, standing);
    return standing;
  };
}

function costWords(edition: Edition, held: State["cards"]["left"]): string {
  const { card, touches } = nextCost(edition, held);
  return card === "yellow" ? "" : `${card} card${touches === 1 ? ", a touch" : ""}`;
}

function plainItem(row: Row, ledger: Ledger) {
  const { entry, record } = row;
  return {
    index: record.index,
    kind: entry.kind,
    at: timeOf(entry),
    until: endOf(entry),
    side: callSide(row, ledger),
    label: callLabel(row, ledger),
    sentence: callSentence(row, ledger),
  };
}

function endOf(entry: Entry): number | null {
  switch (entry.kind) {
    case "phrase":
      return entry.halt ?? null;
    case "stop":
    case "gap":
      return entry.until ?? null;
    default:
      return null;
  }
}

function phraseParts(row: Row): Pick<Item, "number" | "state" | "lamps" | "actions" | "star" | "unsure"> {
  if (row.kind !== "phrase")
    return { number: null, state: "plain", lamps: null, actions: [], star: false, unsure: false };
  const { entry, phrase } = row;
  return {
    number: phrase.number,
    state: !phrase.closed ? "open" : phrase.stands === null ? "waiting" : "called",
    lamps: entry.lamps === undefined ? null : { left: lit(entry.lamps.left), right: lit(entry.lamps.right) },
    actions: [...(entry.actions ?? [])],
    star: entry.star === true,
    unsure: entry.sure === false,
  };
}

function lit(lamps: Lamp | readonly Lamp[] | undefined): string[] {
  return [lamps ?? []].flat();
}

const geometry: Readonly<Partial<Record<Entry["kind"], readonly string[]>>> = {
  fit: ["points"],
  platforms: ["left", "right"],
};

function fieldsOf(raw: unknown, { kind }: Entry): Record<string, Json> {
  const left = geometry[kind] ?? [];
  return Object.fromEntries(
    Object.entries(raw as Record<string, Json>).filter(([name]) => !left.includes(name)),
  );
}

/** Creep since the platforms were last set back, in metres along the piste; 0 at the first pose after that. */
function driftLine(ledger: Ledger): Head["drift"] {
  return driftStudyOf(ledger).stretches.flatMap(({ places }) =>
    places.map(({ at, pose }, index) => ({
      at,
      along: pose.along - (places[0]?.pose.along ?? pose.along),
      broken: index === 0,
    })),
  );
}

function corners(ledger: Ledger): Head["poses"] {
  return ledger.rows.flatMap(({ kind, entry }) =>
    kind !== "platforms"
      ? []
      : sides.flatMap((side) => {
          const points = entry[side];
          return points === undefined
            ? []
            : [{ at: entry.at, side, points: points.map(([x, y]): [number, number] => [x, y]) }];
        }),
  );
}

function tracks(ledger: Ledger): Head["tracks"] {
  const edge = ([inner, outer]: readonly [Pair, Pair]): [[number, number], [number, number]] => [
    [...inner],
    [...outer],
  ];
  return tracksOf(driftStudyOf(ledger)).map(({ end, places }) => ({
    end,
    places: places.map((place) => ({ ...place, left: edge(place.left), right: edge(place.right) })),
  }));
}
type Pair = readonly [number, number];

function fitsOf(ledger: Ledger): Head["fits"] {
  return ledger.rows.flatMap(({ kind, entry, state }) =>
    kind !== "fit"
      ? []
      : [
          {
            at: entry.at,
            shot: state.pose.shot,
            points: entry.points.map(({ image, floor }) => ({
              image: [image[0], image[1]] as [number, number],
              floor: [floor[0], floor[1]] as [number, number],
            })),
          },
        ],
  );
}

function alike(one: unknown, other: unknown): boolean {
  if (one === other) return true;
  if (typeof one !== "object" || typeof other !== "object" || one === null || other === null) return false;
  if (Array.isArray(one) !== Array.isArray(other)) return false;
  const fields = Object.keys(one);
  return (
    fields.length === Object.keys(other).length &&
    fields.every((field) =>
      alike((one as Record<string, unknown>)[field], (other as Record<string, unknown>)[field]),
    )
  );
}
