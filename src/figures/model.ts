// The shapes of a sheet's figures: what each section holds. Every number stands with its denominator, its limits and
// the entries of the log behind it. All limits are 95 %.

import type {
  CardColour,
  Doer,
  Family,
  Reviewer,
  ReviewResult,
  ScoringAction,
  Standing,
} from "../bout/words";
import type { Score, Sided } from "../rules";
import type { Entries, EvidencedRate, MedianFigure, Net } from "./rates";
import type { Outcome } from "./outcomes";

// ---- Who committed first

/** Who opened a phrase, as one side sees it. `nobody`: actions, none that can score; `untagged`: no actions. */
export type OpenedBy = "own" | "opponent" | "both" | "nobody" | "untagged";

/** Phrases and how they ended for a side: each phrase in exactly one outcome, each outcome with Wilson limits. */
export interface Endings {
  readonly phrases: Entries;
  readonly outcomes: Readonly<Record<Outcome, EvidencedRate>>;
  /** Touches for less touches against, for ten phrases; a double counts in both. */
  readonly net: Net;
}

export type OpenedTable = Readonly<Record<OpenedBy, Endings>>;

export interface FamilyRow extends Endings {
  readonly family: Family;
  /** Those in which an action of the family brought the side its touch. */
  readonly scored: EvidencedRate;
}

/** The phrases in which a side used an action of each family; a phrase may stand in several rows. */
export type FamilyTable = readonly FamilyRow[];

export interface TargetRow {
  /** As the file writes it. */
  readonly target: string;
  /** Of the side's touches that have a target (Wilson). */
  readonly share: EvidencedRate;
  /** The touches here by the family that scored. */
  readonly byFamily: Readonly<Partial<Record<Family | "untagged", Entries>>>;
}
export interface TargetTable {
  /** Of the side's touches, those with a target. */
  readonly given: EvidencedRate;
  /** Most touches first. */
  readonly rows: readonly TargetRow[];
}

export interface ConversionRow {
  readonly action: ScoringAction;
  /** Of the phrases in which the side used it, those in which it scored (Wilson). */
  readonly scored: EvidencedRate;
}
export interface Conversion {
  /** Phrases with actions, of all. */
  readonly told: EvidencedRate;
  /** Null where fewer than 90 % of the phrases have actions. */
  readonly sides: Sided<readonly ConversionRow[]> | null;
}

// ---- First and second action

export const answerGroups = [
  "attack",
  "riposte",
  "counter-attack",
  "renewal",
  "line",
  "parry",
  "blade",
  "preparation",
  "lean",
] as const;
/** Families, and the actions that can't score in four groups of their own. */
export type AnswerGroup = (typeof answerGroups)[number];

export interface AnswerWord {
  readonly doer: Doer;
  readonly group: AnswerGroup;
}
export interface AnswerCell {
  readonly first: AnswerWord;
  /** Null where the phrase has one action. */
  readonly second: AnswerWord | null;
  readonly phrases: Entries;
  /** The touch of each side, of the phrases in this cell; null where they are fewer than five: then only count. */
  readonly touches: Sided<EvidencedRate | null>;
  readonly counts: Sided<Entries>;
}
export interface AnswerTable {
  readonly firsts: readonly AnswerWord[];
  readonly seconds: readonly (AnswerWord | null)[];
  readonly cells: readonly AnswerCell[];
}

// ---- The coach's own words

export interface TagRow {
  readonly tag: string;
  /** From `tags.json`; null where it has none. */
  readonly definition: string | null;
  readonly phrases: Entries;
  /** The phrases with this word by whose touch they were (Wilson). */
  readonly touches: Sided<EvidencedRate>;
}
export interface TagTable {
  /** Phrases with a word of the coach's own, of all. */
  readonly used: EvidencedRate;
  readonly rows: readonly TagRow[];
}

// ---- Both lamps

export interface BothLampsRow {
  readonly opener: Doer | "nobody" | "untagged";
  readonly phrases: Entries;
  readonly left: EvidencedRate;
  readonly right: EvidencedRate;
  readonly both: EvidencedRate;
  /** No touch, or not called. */
  readonly nothing: EvidencedRate;
}
export interface BothLamps {
  /** Phrases with a valid lamp on both sides, of those with lamps recorded. */
  readonly share: EvidencedRate;
  readonly rows: readonly BothLampsRow[];
  /** Of both-lamp phrases that one side opened and one side was given: those given to the opener. */
  readonly toOpener: Sided<EvidencedRate>;
  readonly toEitherOpener: EvidencedRate;
  /** Touches for both, of all phrases; null where the weapon is not épée and none occurs. */
  readonly doubles: EvidencedRate | null;
}

// ---- Reviews

/** How the asking side stood; officials have none. */
export type Situation = "ahead" | "level" | "behind";
export type ContestedLamps = "both lamps" | "one lamp" | "no lamp" | "lamps not recorded";

export interface ReviewLine {
  readonly entry: number;
  /** The phrase it belongs to. */
  readonly of: number | null;
  readonly by: Reviewer;
  readonly result: ReviewResult;
  readonly stood: Standing | null;
  readonly stands: Standing | null;
  /** Before the review, the touch in question included. */
  readonly score: Score;
  readonly situation: Situation | null;
  /** From the asking to the next command to fence; null where none follows in the same stretch of recording. */
  readonly seconds: number | null;
  /** How far the review moved the difference of the scores towards the asking side (officials: towards left). */
  readonly swung: number;
  readonly lamps: ContestedLamps;
  /** Family of the action that had the touch, or "no touch", "untagged". */
  readonly contested: Family | "untagged" | "no touch" | "not called";
  readonly appealsLeft: Sided<number> | null;
}
export interface ReviewFigures {
  readonly asked: Entries;
  readonly granted: Entries;
  readonly kept: Entries;
  readonly decided: Entries;
  readonly noPicture: Entries;
  /** Granted, of those that had a picture (Clopper-Pearson). */
  readonly success: EvidencedRate;
  /** Sum of `swung`. */
  readonly swung: number;
  readonly seconds: MedianFigure;
}
export interface AppealFigures extends ReviewFigures {
  readonly bySituation: Readonly<Record<Situation, EvidencedRate>>;
  /** Both-lamp calls that went to the opponent without any review; `withAppeal`: while an appeal was left (null where
   * no number of appeals holds). */
  readonly notAppealed: Entries;
  readonly notAppealedWithAppeal: Entries | null;
}
export interface ContestedRow {
  readonly what: string;
  readonly asked: Entries;
  /** Changed, of those that had a picture (Clopper-Pearson). */
  readonly changed: EvidencedRate;
}
export interface Reviews {
  readonly sides: Sided<AppealFigures>;
  readonly officials: ReviewFigures;
  readonly lines: readonly ReviewLine[];
  /** Fencers' appeals by lamps and by the action that had the touch. */
  readonly byLamps: readonly ContestedRow[];
  readonly byAction: readonly ContestedRow[];
  /** At the start (`entry` null) and wherever the number changed; empty where no number of appeals holds. */
  readonly appealsLeft: readonly { readonly entry: number | null; readonly left: Sided<number> }[];
}

// ---- Flow

export interface ScorePoint {
  readonly entry: number;
  /** Phrases begun so far. */
  readonly phrase: number;
  readonly score: Score;
  readonly by: "phrase" | "review" | "card" | "correction" | "not recorded";
}
export interface Lead {
  /** The largest lead of the side; 0 where it never led. */
  readonly by: number;
  readonly score: Score;
  readonly entry: number | null;
}
/** A count of what was seen beside what shuffled orders of the same touches give. */
export interface AgainstShuffles {
  readonly count: number;
  /** Mean over all orders. */
  readonly expected: number;
  /** Where the middle 95 % of orders lie, both included. */
  readonly usual: { readonly low: number; readonly high: number };
  readonly entries: Entries;
}
export interface TouchOrder {
  /** Phrases given to one side alone, in order. */
  readonly touches: Sided<Entries>;
  /** "all": every order looked at by formula; "drawn": 10,000 seeded shuffles, where a part was not recorded. */
  readonly orders: "all" | "drawn";
  /** Unbroken series of touches of one side. */
  readonly runs: AgainstShuffles;
  readonly longest: Sided<AgainstShuffles>;
  /** Touches of the side straight after a touch against it, and straight after a touch of its own. */
  readonly afterHit: Sided<AgainstShuffles>;
  readonly afterScoring: Sided<AgainstShuffles>;
  /** Two-sided for runs; for the longest run, that it is at least as long. */
  readonly p: { readonly runs: number; readonly longest: Sided<number> };
}
export interface Tempo {
  /** Phrases with a command, in seconds. */
  readonly phrases: MedianFigure;
  /** From halt to the next command in the same stretch of recording and period, in seconds. */
  readonly pauses: MedianFigure;
  /** Those of them with no card, review or stop in between. */
  readonly plainPauses: MedianFigure;
}
export interface CardLine {
  readonly entry: number;
  readonly to: Doer;
  readonly card: CardColour;
  readonly for: string | null;
  /** Touches it gave each side. */
  readonly cost: Sided<number>;
  readonly score: Score;
}
export interface StopLine {
  readonly entry: number;
  readonly for: readonly string[];
  readonly by: string | null;
  /** Null where its end is not written. */
  readonly seconds: number | null;
}
export interface StopTotal {
  /** Whose stop, or what it was for. */
  readonly what: string;
  readonly stops: Entries;
  /** Of those with an end. */
  readonly seconds: number;
  readonly timed: number;
}
export interface Flow {
  readonly line: readonly ScorePoint[];
  /** Entries at which the lead passed from one side to the other, level scores in between or not. */
  readonly leadChanges: Entries;
  readonly largestLead: Sided<Lead>;
  /** Null under two touches. */
  readonly order: TouchOrder | null;
  readonly tempo: Tempo;
  readonly cards: readonly CardLine[];
  readonly stops: readonly StopLine[];
  readonly stopsBy: readonly StopTotal[];
  readonly stopsFor: readonly StopTotal[];
}

// ---- Comparing

interface Tried {
  /** Names the comparison; the same from bout to bout. */
  readonly key: string;
  /** What is compared, in words: "touch when opening: Vessa Tarn with Kel Odrey". */
  readonly question: string;
  readonly p: number;
  /** After Holm, over every comparison tried on the same page. */
  readonly adjusted: number;
  /** True where `adjusted` is under 0.05. */
  readonly passes: boolean;
  /** The outcome in plain words. */
  readonly words: string;
}
export interface Group {
  readonly label: string;
  readonly entries: Entries;
}
/** Two shares of different phrases: Newcombe difference, Fisher's exact test. */
export interface ShareComparison extends Tried {
  readonly kind: "shares";
  readonly first: Group & EvidencedRate;
  readonly second: Group & EvidencedRate;
  /** First less second. */
  readonly difference: { readonly value: number; readonly low: number; readonly high: number };
}
/** Two outcomes of the same phrases: Newcombe's paired difference, exact sign test. */
export interface PairedComparison extends Tried {
  readonly kind: "paired";
  readonly first: Group;
  readonly second: Group;
  readonly of: number;
  readonly difference: { readonly value: number; readonly low: number; readonly high: number };
}
/** Two counts over time: exact ratio and test. */
export interface RateComparison extends Tried {
  readonly kind: "rates";
  readonly first: Group & { readonly count: number; readonly minutes: number };
  readonly second: Group & { readonly count: number; readonly minutes: number };
  /** First over second; a limit that is not finite is null. */
  readonly ratio: { readonly value: number | null; readonly low: number; readonly high: number | null };
}
/** The order of touches against shuffled orders. */
export interface OrderComparison extends Tried {
  readonly kind: "order";
  readonly seen: AgainstShuffles;
  /** All touches in the order. */
  readonly touches: number;
}
export type Comparison = ShareComparison | PairedComparison | RateComparison | OrderComparison;

export interface Comparisons {
  /** How many were tried, all of them listed. */
  readonly tried: number;
  readonly list: readonly Comparison[];
}

// ---- Aloud

export interface SummaryLine {
  readonly text: string;
  readonly entries: Entries;
}

/** The sections of one bout's sheet. Each is worked out when it is first asked for, and once. */
export interface Figures {
  readonly phrases: Entries;
  readonly tagged: EvidencedRate;
  readonly opened: Sided<OpenedTable>;
  readonly families: Sided<FamilyTable>;
  readonly targets: Sided<TargetTable>;
  readonly conversion: Conversion;
  readonly answers: AnswerTable;
  readonly tags: TagTable;
  readonly bothLamps: BothLamps;
  readonly reviews: Reviews;
  readonly flow: Flow;
  readonly comparisons: Comparisons;
  readonly summary: readonly SummaryLine[];
}
