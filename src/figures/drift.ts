// Do the platforms slide, turn and close up? Steps between neighbouring platforms entries of the log, the stretches they
// make up between two re-centres, and what had to be left out, with the reason.

import type { Milliseconds } from "../bout/time";
import type { StopReason } from "../bout/words";
import { timeOf } from "../bout/written";
import {
  doubtOfMove,
  doubtOfPose,
  driftSummary,
  gapDrift,
  moveBetween,
  type DriftSummary,
  type Frame,
  type Pose,
  type Step,
} from "../piste";
import { posesOf, type Ledger, type Row } from "../rules";

/** An entry that takes no part in the drift, or not with the one before it, and why. */
export interface LeftOut {
  readonly entry: number;
  readonly at: string;
  readonly reason: string;
}

/** As printed under "drift". */
export interface Drift extends DriftSummary {
  readonly refused: readonly LeftOut[];
}

/** Where both platforms stood at an entry. `phrases`: those fenced before it, in the whole bout. */
export interface Place {
  readonly entry: number;
  readonly at: Milliseconds;
  readonly phrases: number;
  readonly pose: Pose;
}

/** Why a stretch ends: the platforms were set back, the camera was fitted anew, or what follows can't be compared. */
export type StretchEnd = "re-centre" | "distance" | "fit" | "refused" | "end of the log";

/** Places one after another with nothing in between that would make them no longer comparable; at least one. */
export interface Stretch {
  readonly places: readonly Place[];
  readonly end: StretchEnd;
}

/** A stop in which the referee set the platforms back, and the phrases since the last one or since the start. */
export interface Recentre {
  readonly entry: number;
  readonly at: Milliseconds;
  readonly phrases: number;
  /** Number of the phrase it came after, in the whole bout. */
  readonly after: number;
  /** Metres the platforms had gone along the piste since the first place of the stretch; null where it has only one. */
  readonly crept: { readonly along: number; readonly error: number } | null;
}

/** The gap while nobody set the distance anew: its first and its last place, and the change with its error. */
export interface GapChange {
  readonly from: Place;
  readonly to: Place;
  readonly change: number;
  readonly error: number;
}

export interface DriftStudy {
  readonly steps: readonly Step[];
  /** The poses since the last stop for distance. */
  readonly lastStretch: readonly Pose[];
  /** Null while there is no step. */
  readonly drift: Drift | null;
  readonly stretches: readonly Stretch[];
  readonly refused: readonly LeftOut[];
  readonly recentres: readonly Recentre[];
  /** Of stretches in which the gap changed by more than its error. */
  readonly gapChanges: readonly GapChange[];
}

/** Null while there is no step. */
export function driftOf(ledger: Ledger): Drift | null {
  return driftStudyOf(ledger).drift;
}

/** What the drift is worked out from. */
export function stepsOf(ledger: Ledger): Pick<DriftStudy, "steps" | "lastStretch"> {
  return driftStudyOf(ledger);
}

const known = new WeakMap<Ledger, DriftStudy>();

/** Worked out once for a ledger. */
export function driftStudyOf(ledger: Ledger): DriftStudy {
  const before = known.get(ledger);
  if (before !== undefined) return before;
  const walk = new Walk(ledger);
  for (const row of ledger.rows) walk.take(row);
  const study = walk.study();
  known.set(ledger, study);
  return study;
}

/** A step runs between two neighbouring platforms entries that show both sides, with no fit and no stop for re-centre
 * or distance between them. */
class Walk {
  readonly #poses: ReturnType<typeof posesOf>["poses"];
  readonly #steps: Step[] = [];
  readonly #stretches: Stretch[] = [];
  readonly #refused: LeftOut[] = [];
  readonly #recentres: Recentre[] = [];
  /** Places between two stops for distance. */
  readonly #settings: Place[][] = [[]];
  #places: Place[] = [];
  #openers = { left: 0, right: 0, other: 0 };
  #phrases = 0;
  #phrasesAtRecentre = 0;
  /** Entry of the latest shot and the latest fit of any shot. */
  #shot = -1;
  #fittedSince = false;

  constructor(ledger: Ledger) {
    this.#poses = posesOf(ledger).poses;
  }

  take(row: Row): void {
    switch (row.kind) {
      case "shot":
        this.#shot = row.record.index;
        break;
      case "fit":
        this.#fittedSince = this.#places.length > 0;
        this.#breakOff("fit");
        break;
      case "stop":
        this.#stop(row.record.index, timeOf(row.entry), row.entry.for);
        break;
      case "phrase": {
        const { opener, closed, counts } = row.phrase;
        if (!closed || !counts) break;
        this.#openers[opener === "left" || opener === "right" ? opener : "other"]++;
        this.#phrases++;
        break;
      }
      case "platforms":
        this.#platforms(row);
        break;
      default:
        break;
    }
  }

  study(): DriftStudy {
    this.#breakOff("end of the log");
    const lastStretch = (this.#settings.at(-1) ?? []).map(({ pose }) => pose);
    const drift = driftSummary(this.#steps, lastStretch);
    return {
      steps: this.#steps,
      lastStretch,
      drift: drift === null ? null : { ...drift, refused: this.#refused },
      stretches: this.#stretches,
      refused: this.#refused,
      recentres: this.#recentres,
      gapChanges: this.#settings.flatMap(gapChange),
    };
  }

  #stop(entry: number, at: Milliseconds, reasons: StopReason | readonly StopReason[]): void {
    const distance = isFor(reasons, "distance");
    if (isFor(reasons, "re-centre")) {
      this.#recentres.push({
        entry,
        at,
        phrases: this.#phrases - this.#phrasesAtRecentre,
        after: this.#phrases,
        crept: crept(this.#places),
      });
      this.#phrasesAtRecentre = this.#phrases;
      this.#breakOff("re-centre");
    }
    if (!distance) return;
    this.#breakOff("distance");
    this.#settings.push([]);
  }

  #platforms(row: Extract<Row, { kind: "platforms" }>): void {
    const { entry, record } = row;
    const leaveOut = (reason: string): void => {
      this.#refused.push({ entry: record.index, at: record.at, reason });
    };
    const found = this.#poses.get(record.index);
    if (found === undefined) {
      const there = entry.left === undefined ? "right" : "left";
      leaveOut(
        `only the ${there} platform is marked: the place, turn and gap of both together need both platforms`,
      );
      return;
    }
    const doubt = found.ok ? (this.#doubtOfShot(row) ?? doubtOfPose(found.value)) : found.problem;
    if (!found.ok || doubt !== null) {
      leaveOut(doubt ?? "it can't be put on the floor");
      this.#breakOff("refused");
      return;
    }
    const place: Place = {
      entry: record.index,
      at: timeOf(entry),
      phrases: this.#phrases,
      pose: found.value,
    };
    const from = this.#places.at(-1);
    if (from === undefined) {
      if (this.#fittedSince)
        leaveOut("a fit stands between it and the place before: no move between the two is told");
    } else {
      const move = moveBetween(from.pose, place.pose);
      const jump = doubtOfMove(from.pose, place.pose, move);
      if (jump === null) {
        const { left, right, other } = this.#openers;
        this.#steps.push({
          ...move,
          from: from.entry,
          to: place.entry,
          phrases: left + right + other,
          openers: this.#openers,
        });
      } else {
        leaveOut(jump);
        this.#breakOff("refused");
      }
    }
    this.#fittedSince = false;
    this.#openers = { left: 0, right: 0, other: 0 };
    this.#places.push(place);
    this.#settings.at(-1)?.push(place);
  }

  /** A replay shows another moment, and no two close pictures are framed alike. */
  #doubtOfShot({ state }: Extract<Row, { kind: "platforms" }>): string | null {
    const { shot, fit } = state.pose;
    if (shot === "replay") return "it is marked in a replay, which shows an earlier moment";
    if (shot === "close" && (fit === null || fit < this.#shot))
      return "it is marked in a close picture whose fit was made before a cut: no two close pictures are framed alike";
    return null;
  }

  #breakOff(end: StretchEnd): void {
    if (this.#places.length > 0) this.#stretches.push({ places: this.#places, end });
    this.#places = [];
  }
}

function crept(places: readonly Place[]): Recentre["crept"] {
  const [first] = places;
  const last = places.at(-1);
  if (first === undefined || last === undefined || first === last) return null;
  const { along, error } = moveBetween(first.pose, last.pose);
  return { along, error: error.along };
}

/** Poses of another fit than the first's are compared all the same: both errors are in the change's own. */
function gapChange(places: readonly Place[]): readonly GapChange[] {
  const told = places.filter((place) => frameOf(place) !== null);
  const from = told[0];
  const to = told.at(-1);
  if (from === undefined || to === undefined || from === to) return [];
  const found = gapDrift([from.pose, to.pose]);
  if (found === null || found.change === null || found.error === null) return [];
  return Math.abs(found.change) > found.error ? [{ from, to, change: found.change, error: found.error }] : [];
}

function frameOf({ pose }: Place): Frame | null {
  return pose.frame;
}

function isFor(reasons: StopReason | readonly StopReason[], reason: StopReason): boolean {
  return typeof reasons === "string" ? reasons === reason : reasons.includes(reason);
}
