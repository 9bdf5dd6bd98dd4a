// The phrases that count in figures: closed, before the end of the bout, each with what figures ask of it most.

import { opponent, type Doer, type Side } from "../bout/words";
import type { Ledger, PhraseRow, Row } from "../rules";
import { wilson, netOf, type Entries } from "./rates";
import { outcomeOf, outcomes, type Outcome } from "./outcomes";
import type { Endings, OpenedBy } from "./model";

export type Opener = Doer | "nobody" | "untagged";

export interface CountedPhrase {
  readonly entry: number;
  readonly row: PhraseRow;
  readonly opener: Opener;
  readonly outcome: Readonly<Record<Side, Outcome>>;
  /** Which stretch of recording it is in: a gap or an opening begins another. */
  readonly stretch: number;
}

export function countedPhrases({ rows }: Ledger): readonly CountedPhrase[] {
  const found: CountedPhrase[] = [];
  let stretch = 0;
  for (const row of rows) {
    if (parts(row)) stretch++;
    if (row.kind !== "phrase" || !row.phrase.closed || !row.phrase.counts) continue;
    const left = outcomeOf(row, "left");
    found.push({
      entry: row.record.index,
      row,
      opener: openerOf(row),
      outcome: { left, right: left === "for" ? "against" : left === "against" ? "for" : left },
      stretch,
    });
  }
  return found;
}

/** Whether what comes before and after this entry did not follow each other. */
export function parts({ kind }: Row): boolean {
  return kind === "gap" || kind === "opening";
}

/** Whether the phrase has actions. */
export function isTold({ entry: { actions } }: PhraseRow): boolean {
  return actions !== undefined && actions.length > 0;
}

function openerOf(row: PhraseRow): Opener {
  return row.phrase.opener ?? (isTold(row) ? "nobody" : "untagged");
}

export function openedAsSeen(opener: Opener, side: Side): OpenedBy {
  return opener === side ? "own" : opener === opponent(side) ? "opponent" : (opener as OpenedBy);
}

export function entriesOf(phrases: readonly CountedPhrase[]): Entries {
  return phrases.map(({ entry }) => entry);
}

/** How these phrases ended for the side. */
export function endingsOf(phrases: readonly CountedPhrase[], side: Side): Endings {
  const by = Object.fromEntries(outcomes.map((outcome) => [outcome, [] as number[]])) as Record<
    Outcome,
    number[]
  >;
  for (const { entry, outcome } of phrases) by[outcome[side]].push(entry);
  const of = phrases.length;
  return {
    phrases: entriesOf(phrases),
    outcomes: Object.fromEntries(
      outcomes.map((outcome) => [outcome, wilson(by[outcome], of)]),
    ) as unknown as Endings["outcomes"],
    net: netOf({ for: by.for.length, against: by.against.length, each: by.each.length }, of),
  };
}
