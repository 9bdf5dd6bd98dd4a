// Who committed first, and what came of it? By who opened, by family of action, and by action.

import {
  doneAction,
  families as actionsOfFamily,
  familyOf,
  scoringActions,
  sides,
  sidesOf,
  type Family,
  type ScoringAction,
  type Side,
} from "../bout/words";
import type { Sided } from "../rules";
import type { Conversion, ConversionRow, FamilyRow, FamilyTable, OpenedBy, OpenedTable } from "./model";
import { endingsOf, entriesOf, isTold, openedAsSeen, type CountedPhrase } from "./phrases";
import { wilson } from "./rates";

const openedBy: readonly OpenedBy[] = ["own", "opponent", "both", "nobody", "untagged"];

export function openedTable(phrases: readonly CountedPhrase[], side: Side): OpenedTable {
  return Object.fromEntries(
    openedBy.map((by) => [
      by,
      endingsOf(
        phrases.filter(({ opener }) => openedAsSeen(opener, side) === by),
        side,
      ),
    ]),
  ) as unknown as OpenedTable;
}

/** Only families the side used. */
export function familyTable(phrases: readonly CountedPhrase[], side: Side): FamilyTable {
  return (Object.keys(actionsOfFamily) as Family[]).flatMap((family): FamilyRow[] => {
    const used = phrases.filter((phrase) => uses(phrase, side, (action) => familyOf(action) === family));
    if (used.length === 0) return [];
    const scored = used.filter(({ row }) => familyScored(row.phrase.scoring[side]) === family);
    return [{ family, ...endingsOf(used, side), scored: wilson(entriesOf(scored), used.length) }];
  });
}

export function familyScored(action: ScoringAction | "untagged" | null): Family | "untagged" | null {
  return action === null || action === "untagged" ? action : (familyOf(action) ?? "untagged");
}

/** Shares by action are worth reading only where this share of the phrases has actions. */
const enough = 0.9;

export function conversionOf(phrases: readonly CountedPhrase[]): Conversion {
  const told = wilson(entriesOf(phrases.filter(({ row }) => isTold(row))), phrases.length);
  if (told.value === null || told.value < enough) return { told, sides: null };
  return { told, sides: { left: conversionRows(phrases, "left"), right: conversionRows(phrases, "right") } };
}

function conversionRows(phrases: readonly CountedPhrase[], side: Side): readonly ConversionRow[] {
  return scoringActions.flatMap((action) => {
    const used = phrases.filter((phrase) => uses(phrase, side, (one) => one === action));
    if (used.length === 0) return [];
    const scored = used.filter(({ row }) => row.phrase.scoring[side] === action);
    return [{ action, scored: wilson(entriesOf(scored), used.length) }];
  });
}

type Action = ReturnType<typeof doneAction>["action"];

function uses({ row }: CountedPhrase, side: Side, wanted: (action: Action) => boolean): boolean {
  return (row.entry.actions ?? []).some((words) => {
    const { doer, action } = doneAction(words);
    return sidesOf(doer).includes(side) && wanted(action);
  });
}

export function forBoth<T>(figure: (side: Side) => T): Sided<T> {
  const [left, right] = [figure(sides[0]), figure(sides[1])];
  return { left, right };
}
