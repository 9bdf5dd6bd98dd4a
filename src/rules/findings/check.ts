// What one check is given, and what it may answer. A check looks at one row and what came before it, and says nothing
// where all is well.

import type { Severity } from "../../bout/result";
import type { Side } from "../../bout/words";
import type { Ledger } from "../ledger";
import type { PhraseRow, Row, Score } from "../rows";
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
  readonly source: string;
  readonly related?: readonly Related[];
}

export interface Past {
  readonly ledger: Ledger;
  readonly previous: Row | undefined;
  readonly phrase: PhraseRow | undefined;
  /** Board less ledger at the latest board entry. */
  readonly boardAhead: Score | undefined;
  /** Whether another phrase, or the end, comes after this row. */
  readonly followed: boolean;
}

export type Check = (row: Row, past: Past) => Doubt | undefined;

/** The source of what no rule book asks for but the file itself. */
export const ownFormat = "the bout file's format";

export function nameOf({ bout }: Ledger, side: Side): string {
  return bout.fencers[side].name;
}

export function scoreText([left, right]: Score): string {
  return `${left}:${right}`;
}
