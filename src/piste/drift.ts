// Do the platforms drift, which way, and by how much a phrase?

import {
  type Estimate,
  permutationTest,
  ratioInterval,
  type RatioPart,
  signTestOfCounts,
} from "../statistics";
import { moveError } from "./error";
import type { Pose } from "./pose";
import type { Move } from "./step";

/**
 * A move with the log entries of its two poses and the phrases fenced between them. `openers` counts these phrases by
 * the side that opened them; `other` are those opened by both or by nobody.
 */
export interface Step extends Move {
  readonly from: number;
  readonly to: number;
  readonly phrases: number;
  readonly openers: { readonly left: number; readonly right: number; readonly other: number };
}

/** Drift over the steps whose phrases were all opened by one side, or over the rest; metres, null without phrases. */
export interface DriftByOpener {
  readonly phrases: number;
  readonly perPhrase: number | null;
}

/**
 * The gap at the first and the last pose of a stretch, and the change between them with its 95 % half-width. These two
 * are null while there is only one pose.
 */
export interface GapDrift {
  readonly first: number;
  readonly last: number;
  readonly change: number | null;
  readonly error: number | null;
}

/** As printed under "drift": metres, turns in degrees, + towards the right end or counter-clockwise. */
export interface DriftSummary {
  readonly steps: readonly Omit<Step, "openers">[];
  readonly towards: "left" | "right" | null;
  /** Why `towards` is null. */
  readonly note?: string;
  readonly alongPerPhrase: Estimate | null;
  readonly signTest: { readonly right: number; readonly left: number; readonly p: number };
  readonly byOpener: {
    readonly left: DriftByOpener;
    readonly right: DriftByOpener;
    readonly other: DriftByOpener;
    readonly p: number | null;
  };
  readonly turnPerPhrase: Estimate | null;
  /** How each platform turns against the bar; as `turnPerPhrase`. */
  readonly twistPerPhrase: { readonly left: Estimate | null; readonly right: Estimate | null };
  readonly gap: GapDrift | null;
}

/** Fewer steps with phrases give no limits that mean anything. */
const fewestSteps = 3;

/**
 * The drift over all steps of a bout; null without any. `lastStretch` are the poses, in order, since the last stop for
 * distance, or all there are: the gap is only compared within them, and those of a fit of two points are passed over.
 * Estimates a phrase, and the groups by opener, take the steps that have phrases; the sign test takes all steps.
 */
export function driftSummary(steps: readonly Step[], lastStretch: readonly Pose[]): DriftSummary | null {
  steps.forEach(requireOpeners);
  if (steps.length === 0) return null;
  const fenced = steps.filter((step) => step.phrases > 0);
  const alongPerPhrase = estimate(fenced.map(alongOf));
  const right = steps.filter((step) => step.along > 0).length;
  const left = steps.filter((step) => step.along < 0).length;
  return {
    steps: steps.map(({ from, to, phrases, along, across, turn, gap, twist, error }) => {
      return { from, to, phrases, along, across, turn, gap, twist, error };
    }),
    ...towards(fenced.length, alongPerPhrase),
    alongPerPhrase,
    signTest: { right, left, p: signTestOfCounts(right, left) },
    byOpener: byOpener(fenced),
    turnPerPhrase: estimate(fenced.flatMap(turnOf)),
    twistPerPhrase: {
      left: estimate(fenced.flatMap(twistOf("left"))),
      right: estimate(fenced.flatMap(twistOf("right"))),
    },
    gap: gapDrift(lastStretch),
  };
}

function requireOpeners({ from, phrases, openers }: Step): void {
  const counts = [phrases, openers.left, openers.right, openers.other];
  const sum = openers.left + openers.right + openers.other;
  if (counts.some((count) => !Number.isSafeInteger(count) || count < 0) || sum !== phrases) {
    throw new RangeError(
      `The openers of the step from entry ${from} do not add up to its ${phrases} phrases`,
    );
  }
}

function alongOf({ along, phrases }: Step): RatioPart {
  return { amount: along, exposure: phrases };
}

function turnOf({ turn, phrases }: Step): readonly RatioPart[] {
  return turn === null ? [] : [{ amount: turn, exposure: phrases }];
}

function twistOf(side: "left" | "right"): (step: Step) => readonly RatioPart[] {
  return ({ twist, phrases }) => (twist === null ? [] : [{ amount: twist[side], exposure: phrases }]);
}

function estimate(parts: readonly RatioPart[]): Estimate | null {
  return parts.length < fewestSteps ? null : ratioInterval(parts);
}

function towards(fenced: number, along: Estimate | null): Pick<DriftSummary, "towards" | "note"> {
  if (along === null) {
    const note = `${fewestSteps} steps with phrases are needed; there ${fenced === 1 ? "is 1" : `are ${fenced}`}`;
    return { towards: null, note };
  }
  if (along.low > 0) return { towards: "right" };
  if (along.high < 0) return { towards: "left" };
  const note = `the data can't tell: anything from ${spoken(along.low)} to ${spoken(along.high)} a phrase fits them`;
  return { towards: null, note };
}

/** Rounded up to whole millimetres, away from 0, so that a limit never reads narrower than it is. */
function spoken(metres: number): string {
  if (metres === 0) return "no move";
  const millimetres = Math.ceil(Math.abs(metres) * 1000);
  return `${millimetres} mm to the ${metres < 0 ? "left" : "right"}`;
}

function byOpener(fenced: readonly Step[]): DriftSummary["byOpener"] {
  const left = fenced.filter((step) => step.openers.left === step.phrases).map(alongOf);
  const right = fenced.filter((step) => step.openers.right === step.phrases).map(alongOf);
  const other = fenced
    .filter((step) => step.openers.left < step.phrases && step.openers.right < step.phrases)
    .map(alongOf);
  const p = left.length === 0 || right.length === 0 ? null : permutationTest(left, right).p;
  return { left: pooled(left), right: pooled(right), other: pooled(other), p };
}

function pooled(parts: readonly RatioPart[]): DriftByOpener {
  const phrases = parts.reduce((sum, part) => sum + part.exposure, 0);
  const along = parts.reduce((sum, part) => sum + part.amount, 0);
  return { phrases, perPhrase: phrases === 0 ? null : along / phrases };
}

/** How the gap changed from the first to the last pose that tells it; null without any. */
export function gapDrift(stretch: readonly Pose[]): GapDrift | null {
  const seen = stretch.flatMap((pose) => (pose.frame === null ? [] : [{ pose, gap: pose.frame.gap }]));
  const first = seen[0];
  const last = seen.at(-1);
  if (first === undefined || last === undefined) return null;
  const gaps = { first: first.gap, last: last.gap };
  if (first === last) return { ...gaps, change: null, error: null };
  return { ...gaps, change: gaps.last - gaps.first, error: moveError(first.pose, last.pose).gap };
}
