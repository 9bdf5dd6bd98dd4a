/** Shapes of what the tests use of the demo's ground truth; see timeline.mjs. */
export type Side = "left" | "right";
export type Score = readonly [left: number, right: number];

export interface TimedAction {
  readonly side: Side | "both";
  readonly name: string;
  /** Frames. */
  readonly from: number;
  readonly to: number;
}

export interface TimedPhrase {
  readonly kind: "phrase";
  readonly actions: readonly string[];
  readonly lamps: Readonly<Partial<Record<Side, "valid" | "off-target">>>;
  readonly award: Side | "none" | "pending";
  readonly play?: false;
  /** Frames: the command to fence, the lamps, the command to halt. */
  readonly start: number;
  readonly touch: number;
  readonly halt: number;
  readonly timed: readonly TimedAction[];
}

/** Frames in the recording. */
export const frames: number;
export const phrases: readonly TimedPhrase[];
export const finalScore: Score;
/** The true score at a frame, and what the scoreboard shows. */
export function scoreAt(frame: number): { score: Score; shown: Score };
export function lampsAt(frame: number): Partial<Record<Side, "valid" | "off-target">>;
/** Seconds left on the clock, and the period. */
export function clockAt(frame: number): { period: number; left: number };
export function clockText(frame: number): string;
/** A frame's presentation time as written in a bout file. */
export function timeText(frame: number): string;
