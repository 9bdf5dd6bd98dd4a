// What do many bouts say of one fencer, for the coach who meets them next? As `boutline brief --json` prints it.

import { families, weapons, type Family, type Format, type Side, type Weapon } from "../../bout/words";
import { opponent } from "../../bout/words";
import { failure, success, type Result } from "../../bout/result";
import { caution } from "../caution";
import type { OpenedBy } from "../model";
import { candidatesOf } from "./candidates";
import { judgedTogether, type BriefComparisons } from "./comparing";
import { boutsOf, personNamed, type BoutRead, type LeftOutBout, type OwnBout, type Person } from "./fencers";
import * as kind from "./kinds";
import { opponentsOf, commonOpponents, type CommonOpponent } from "./opponents";
import { planOf, type PlanSpace } from "./plan";
import {
  isAgainst,
  isFor,
  pick,
  rowsThatOccur,
  shareOf,
  touchRow,
  type BriefEvidence,
  type PooledRate,
  type TouchRow,
  type Wanted,
} from "./pooling";
import { briefCards, briefReviews, type BriefCards, type BriefReviews } from "./reviews";
import { sentencesOf, type Sentence } from "./sentences";
import { trendOf, type Trend } from "./trend";

/** Numbers unrounded, limits 95 %, entries by their index in `log`. A field may be added, never change its meaning. */
export interface Brief {
  readonly brief: 1;
  readonly fencer: Person;
  /** Where the brief is on one fencer against another: the figures are of the bouts between them. */
  readonly against: Person | null;
  /** Oldest first, undated ones last. */
  readonly bouts: readonly BriefBout[];
  /** Bouts of the fencer that are not counted, and why. */
  readonly leftOut: readonly LeftOutBout[];
  /** Closed phrases, and whose touch they were. */
  readonly total: TouchRow;
  readonly penaltyTouches: { readonly for: BriefEvidence; readonly against: BriefEvidence };
  readonly sentences: readonly Sentence[];
  readonly plan: readonly PlanSpace[];
  readonly opened: readonly TouchRow[];
  readonly bothLamps: TouchRow;
  readonly families: { readonly own: readonly TouchRow[]; readonly opponents: readonly TouchRow[] };
  /** The action that had the touch: of the fencer's touches, and of those against. */
  readonly touchesBy: { readonly for: readonly SharePart[]; readonly against: readonly SharePart[] };
  /** Where touches landed, of those with a target. */
  readonly targets: { readonly for: readonly SharePart[]; readonly against: readonly SharePart[] };
  readonly hands: readonly TouchRow[];
  readonly weapons: readonly TouchRow[];
  readonly moments: readonly TouchRow[];
  readonly reviews: BriefReviews;
  readonly cards: BriefCards;
  readonly trend: Trend;
  readonly opponents: readonly TouchRow[];
  /** Opponents that both have met; empty without `against`. */
  readonly common: readonly CommonOpponent[];
  readonly comparisons: BriefComparisons;
  readonly cautions: readonly string[];
}

export interface BriefBout {
  readonly file: string;
  readonly date: string | null;
  readonly event: string | null;
  readonly round: string | null;
  readonly weapon: Weapon;
  readonly format: Format;
  readonly side: Side;
  readonly opponent: { readonly key: string; readonly name: string };
  readonly score: { readonly own: number; readonly opponent: number };
  readonly won: boolean | null;
  readonly phrases: number;
  /** Whether the file names a recording. */
  readonly recorded: boolean;
}

export interface SharePart {
  readonly label: string;
  readonly share: PooledRate;
}

/** The problem is a sentence for the reader: an id that is not there, or the same twice. */
export function briefOf(bouts: readonly BoutRead[], id: string, againstId?: string): Result<Brief, string> {
  if (id === againstId) return failure(`a brief on "${id}" against the same fencer has nothing to compare`);
  const fencer = personNamed(bouts, id);
  if (!fencer.ok) return fencer;
  const against = againstId === undefined ? null : personNamed(bouts, againstId);
  if (against?.ok === false) return against;
  const { own, leftOut } = boutsOf(bouts, id);
  const met = againstId === undefined ? own : own.filter((bout) => bout.opponent.key === againstId);
  const common = againstId === undefined ? [] : commonOpponents(own, boutsOf(bouts, againstId).own);
  return success(figures(fencer.value, against?.value ?? null, met, leftOut, common));
}

function figures(
  fencer: Person,
  against: Person | null,
  bouts: readonly OwnBout[],
  leftOut: readonly LeftOutBout[],
  common: readonly CommonOpponent[],
): Brief {
  const { name } = fencer;
  const row = (key: string, label: string, wanted: Wanted) => touchRow(key, label, pick(bouts, wanted));
  const trend = trendOf(bouts);
  const comparisons = judgedTogether(candidatesOf(name, bouts, trend));
  const sentences = sentencesOf(comparisons, bouts.length);
  const { penaltyTouches, ...cards } = briefCards(bouts);
  const byFamily = (who: "own" | "opponent") =>
    rowsThatOccur(
      familyNames.map((family) => row(`family.${who}.${family}`, family, kind.usedFamily(who, family))),
    );
  return {
    brief: 1,
    fencer,
    against,
    bouts: bouts.map(boutLine),
    leftOut,
    total: row("all", "all phrases", () => true),
    penaltyTouches,
    sentences,
    plan: planOf(sentences, comparisons, bouts),
    opened: rowsThatOccur(openers(name).map(([by, label]) => row(`opened.${by}`, label, kind.openedBy(by)))),
    bothLamps: row("lamps.both", "both lamps", kind.bothLamps),
    families: { own: byFamily("own"), opponents: byFamily("opponent") },
    touchesBy: { for: touchesBy(bouts, "own"), against: touchesBy(bouts, "opponent") },
    targets: { for: targets(bouts, isFor), against: targets(bouts, isAgainst) },
    hands: rowsThatOccur([
      row("hand.left", "left-handers", (_, { opponent: { hand } }) => hand === "left"),
      row("hand.right", "right-handers", (_, { opponent: { hand } }) => hand === "right"),
      row("hand.unknown", "hand not written", (_, { opponent: { hand } }) => hand === null),
    ]),
    weapons: rowsThatOccur(
      weapons.map((weapon) =>
        row(`weapon.${weapon}`, weapon === "epee" ? "épée" : weapon, (_, bout) => bout.weapon === weapon),
      ),
    ),
    moments: rowsThatOccur(moments.map(([key, label, wanted]) => row(`moment.${key}`, label, wanted))),
    reviews: briefReviews(bouts),
    cards,
    trend,
    opponents: opponentsOf(bouts),
    common,
    comparisons,
    cautions: caution,
  };
}

const familyNames = Object.keys(families) as Family[];

function openers(name: string): readonly (readonly [OpenedBy, string])[] {
  return [
    ["own", `${name} opened`],
    ["opponent", "the opponent opened"],
    ["both", "both together"],
    ["nobody", "nobody: no action that can score"],
    ["untagged", "not tagged"],
  ];
}

const moments: readonly (readonly [string, string, Wanted])[] = [
  ["last-minute", "last minute of a period", kind.inLastMinute],
  ["before-last-minute", "earlier in the period", kind.beforeLastMinute],
  ["deciding", `a side within ${kind.nearTouches} touches of the last`, kind.nearDeciding],
  ["before-deciding", "earlier in the bout", kind.farFromDeciding],
  ["ahead", "when ahead", kind.ahead],
  ["level", "when level", kind.level],
  ["behind", "when behind", kind.behind],
];

function boutLine({
  file,
  date,
  weapon,
  format,
  side,
  ledger,
  opponent: other,
  phrases,
}: OwnBout): BriefBout {
  const { about } = ledger.bout;
  const [left, right] = ledger.end.score;
  return {
    file,
    date,
    event: about.event ?? null,
    round: about.round ?? null,
    weapon,
    format,
    side,
    opponent: { key: other.key, name: other.name },
    score: side === "left" ? { own: left, opponent: right } : { own: right, opponent: left },
    won: ledger.winner === null ? null : ledger.winner === side,
    phrases: phrases.length,
    recorded: ledger.bout.recordings.length > 0,
  };
}

/** The families by which one side had its touches. */
function touchesBy(bouts: readonly OwnBout[], who: "own" | "opponent"): readonly SharePart[] {
  const scorer = ({ side }: OwnBout) => (who === "own" ? side : opponent(side));
  const touches = pick(bouts, who === "own" ? isFor : isAgainst);
  return parts([...familyNames, "untagged"], (family) =>
    shareOf(touches, (phrase, bout) => kind.scoredBy(phrase, scorer(bout)) === family),
  );
}

function targets(bouts: readonly OwnBout[], whose: Wanted): readonly SharePart[] {
  const given = pick(bouts, (phrase, bout) => whose(phrase, bout) && phrase.row.entry.target !== undefined);
  const names = new Set(given.flatMap(({ phrases }) => phrases.map(({ row }) => row.entry.target ?? "")));
  return parts([...names], (target) => shareOf(given, ({ row }) => row.entry.target === target));
}

/** Those that occur, most first. */
function parts(labels: readonly string[], share: (label: string) => PooledRate): readonly SharePart[] {
  return labels
    .map((label) => ({ label, share: share(label) }))
    .filter(({ share: { count } }) => count > 0)
    .sort((one, other) => other.share.count - one.share.count);
}
