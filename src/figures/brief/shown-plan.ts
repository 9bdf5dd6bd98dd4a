// A written plan as it is shown beside a brief: what was tied looked up in the bouts as they are now, and suggestions
// where nothing is written yet.

import { timeOf } from "../../bout/written";
import type { Ledger } from "../../rules";
import { entryOf } from "../written-evidence";
import type { Brief } from "./brief";
import type { PlanSpace } from "./plan";
import { isBlank, planThings, thingOf, type Tie, type WrittenPlan } from "./written-plan";

export interface ShownPlan {
  readonly things: readonly ShownThing[];
}

export interface ShownThing {
  readonly words: string;
  readonly ties: readonly ShownTie[];
  /** What the brief offers where nothing is written. */
  readonly suggestion: PlanSpace | null;
}

export interface ShownTie {
  readonly about: string;
  readonly phrases: readonly TiedPhrase[];
  /** Entries named in the plan that are in no bout file any more. */
  readonly lost: number;
}

/** An entry that is there: its bout by `file` as the brief names it, its place in the log, its time in milliseconds. */
export interface TiedPhrase {
  readonly file: string;
  readonly entry: number;
  readonly at: number;
}

/** A bout as a plan names it, looked up among those read. */
export type FindBout = (bout: string) => { readonly file: string; readonly ledger: Ledger } | undefined;

/** `plan` undefined: nothing has been written. */
export function shownPlan(brief: Brief, plan: WrittenPlan | undefined, find: FindBout): ShownPlan {
  const told = new Set(plan?.things.flatMap(({ ties }) => ties.map(({ about }) => about)));
  const suggestions = brief.plan.filter(({ about }) => !told.has(about));
  return {
    things: Array.from({ length: planThings }, (_, at) => {
      const thing = plan === undefined ? undefined : thingOf(plan, at);
      if (thing === undefined || isBlank(thing))
        return { words: "", ties: [], suggestion: suggestions.shift() ?? null };
      return { words: thing.do, ties: thing.ties.map((tie) => shownTie(tie, find)), suggestion: null };
    }),
  };
}

function shownTie({ about, bouts }: Tie, find: FindBout): ShownTie {
  let lost = 0;
  const phrases = bouts.flatMap(({ bout, entries }) => {
    const found = find(bout);
    return entries.flatMap((written): TiedPhrase[] => {
      const entry = found === undefined ? undefined : entryOf(found.ledger, written);
      const row = found?.ledger.byEntry[entry ?? -1];
      if (found === undefined || entry === undefined || row === undefined) {
        lost++;
        return [];
      }
      return [{ file: found.file, entry, at: timeOf(row.entry) }];
    });
  });
  return { about, phrases, lost };
}
