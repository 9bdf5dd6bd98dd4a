// What one check is given, and what it may answer. A check looks at one row and what came before it, and says nothing
// where all is well.

import type { Severity } from "../../bout/result";
import type { Kind } from "../../bout/schema";
import type { Side } from "../../bout/words";
import type { Origin } from "../edition";
import type { Ledger } from "../ledger";
import type { Row, Score } from "../rows";
import type { Past } from "./past";
import type { RuleId } from "./rule-book";

/** Something in the file that the rules or the evidence contradict. It stands at an entry of the log, or, where it is
 * not about one, at a place of the text (both from 1). */
export interface Finding {
  readonly rule: string;
  readonly severity: Severity;
  /** Index in `log`, from 0. */
  readonly entry?: number;
  /** The entry's time as written. */
  readonly at?: string;
  readonly line?: number;
  readonly column?: number;
  readonly message: string;
  /** Article of the rules, or where else it comes from. */
  readonly source: string;
  /** The file of `media/rules/` that explains the rule. */
  readonly page: string;
  /** Other entries it has to do with, by their index in `log`, and in which way. */
  readonly related?: readonly Related[];
}

export interface Related {
  readonly entry: number;
  readonly message: string;
}

export interface Doubt {
  readonly rule: RuleId;
  readonly severity: Severity;
  readonly message: string;
  /** Where the rule comes from. A fact nobody could confirm gives a note at most, and the message says so. */
  readonly from: Origin;
  readonly related?: readonly Related[] | undefined;
}

/** Tells of a doubt at a row. */
export type Report = (row: Row, doubt: Doubt) => void;

export type RowOf<K extends Kind> = Extract<Row, { kind: K }>;
export type Check<K extends Kind = Kind> = (row: RowOf<K>, past: Past, report: Report) => void;

/** The source of what no rule book asks for but the file itself. */
export const ownFormat = "the bout file's format";
export const byOwnFormat: Origin = { source: ownFormat };

/** The origin of a conclusion from two facts: unverified where one of them is. */
export function fromBoth(one: Origin, other: Origin): Origin {
  return {
    source: one.source === other.source ? one.source : `${one.source}; ${other.source}`,
    unverified: one.unverified ?? other.unverified,
  };
}

export function nameOf({ bout }: Ledger, side: Side): string {
  return bout.fencers[side].name;
}

export function scoreText([left, right]: Score): string {
  return `${left}:${right}`;
}

/** A row a finding has to do with. */
export function relatedTo(row: Row | undefined, message: string): readonly Related[] | undefined {
  return row === undefined ? undefined : [{ entry: row.record.index, message }];
}
