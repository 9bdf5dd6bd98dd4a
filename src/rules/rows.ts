// The rows of a ledger: what each log entry means, and the state of the bout after it.

import type { EntryRecord } from "../bout/read";
import type { EntryOf, Kind } from "../bout/schema";
import type { Milliseconds } from "../bout/time";
import type { CardColour, Doer, PeriodNumber, ScoringAction, Side, Standing } from "../bout/words";

export type Sided<T> = Readonly<Record<Side, T>>;
/** Left, then right. */
export type Score = readonly [left: number, right: number];

/** What the picture is tied to, as entries of the log. */
export interface Pose {
  /** The shot's name; `main` until a shot entry says otherwise. */
  readonly shot: string;
  /** The latest fit of this shot; null where there is none. */
  readonly fit: number | null;
  /** The latest platforms entry that shows this side. */
  readonly platforms: Sided<number | null>;
}

export interface State {
  readonly score: Score;
  /** In the order in which they were shown. */
  readonly cards: Sided<readonly CardColour[]>;
  /** Null where no number of appeals holds: no video refereeing, or no rule about it. */
  readonly appeals: Sided<number> | null;
  readonly period: PeriodNumber;
  /** Fencing time so far, in the whole bout and in this period. */
  readonly fencing: Milliseconds;
  readonly fencingInPeriod: Milliseconds;
  /** The side that wins if the extra minute ends without a touch. */
  readonly priority: Side | null;
  readonly pose: Pose;
  /** The entry that ended the bout. */
  readonly ended: number | null;
}

export interface PhraseFacts {
  /** From 1, among the phrases of the log. */
  readonly number: number;
  /** Halted. */
  readonly closed: boolean;
  /** From the command to fence to the halt; 0 while open and where no command was given. */
  readonly fencing: Milliseconds;
  /** Side of the first action that can score; null without one. */
  readonly opener: Doer | null;
  /** Who has the touch in the end, after reviews and annulment; null while pending or not called. */
  readonly stands: Standing | null;
  /** The scoring action of each side that has the touch in the end. */
  readonly scoring: Sided<ScoringAction | "untagged" | null>;
  readonly bothLamps: boolean;
  /** False after the end of the bout: the phrase is shown and counts nowhere. */
  readonly counts: boolean;
  /** Its reviews, as entries of the log. */
  readonly reviews: readonly number[];
}

interface RowOf<K extends Kind> {
  readonly kind: K;
  readonly record: EntryRecord;
  readonly entry: EntryOf<K>;
  readonly before: State;
  /** The state after this entry. */
  readonly state: State;
}

export interface PhraseRow extends RowOf<"phrase"> {
  readonly phrase: PhraseFacts;
}

export interface ReviewRow extends RowOf<"review"> {
  /** The phrase it belongs to, as an entry of the log; null where no phrase comes before it. */
  readonly of: number | null;
  /** What stood before the review and what stands after it; null while nothing does. */
  readonly stood: Standing | null;
  readonly stands: Standing | null;
}

export type OtherKind = Exclude<Kind, "phrase" | "review">;
export type Row = PhraseRow | ReviewRow | { readonly [K in OtherKind]: RowOf<K> }[OtherKind];

/** Where a side's score comes from; the four add up to it. */
export interface Touches {
  /** Awards that stood. */
  readonly phrases: number;
  /** From the opponent's red cards, and from P-reds. */
  readonly penalties: number;
  /** From openings and gaps. */
  readonly unseen: number;
  /** From corrections; may be negative. */
  readonly corrected: number;
}
