// Who won? The end entry says so, or its reason and the score do.

import type { Bout } from "../bout/read";
import type { EntryOf } from "../bout/schema";
import { opponent, sides, type CardColour, type Side } from "../bout/words";
import type { Edition } from "./edition";
import type { Row, Score, State } from "./rows";

/** The winner, or null while undecided or where the file does not say. */
export function winnerOf(bout: Bout, edition: Edition, rows: readonly Row[], state: State): Side | null {
  const end = state.ended === null ? undefined : endEntry(rows, state.ended);
  if (end === undefined) return byTouches(state.score, edition.formats[bout.about.format].touches.value);
  return end.winner ?? byReason(bout, end, rows, state);
}

function byReason(bout: Bout, end: EntryOf<"end">, rows: readonly Row[], state: State): Side | null {
  const ahead = leader(state.score);
  switch (end.by) {
    case "touches":
    case "time":
    case "deciding touch":
      return ahead;
    case "priority":
      // The score stays level when lots decide (FIE t.38.2.c, t.40.4); an uneven one needs no lots.
      return ahead ?? state.priority;
    case "exclusion":
      return opponentOfCarded(rows, "black");
    case "P-black":
      // The lower score loses; at a level score the lower seed (FIE t.124).
      return opponentOfCarded(rows, "P-black") ?? ahead ?? betterSeed(bout);
    case "withdrawal":
    case "chair failure":
      return null;
  }
}

function endEntry(rows: readonly Row[], index: number): EntryOf<"end"> | undefined {
  const row = rows.find(({ record }) => record.index === index);
  return row?.kind === "end" ? row.entry : undefined;
}

function leader([left, right]: Score): Side | null {
  return left > right ? "left" : right > left ? "right" : null;
}

function byTouches(score: Score, needed: number | null): Side | null {
  return needed !== null && Math.max(...score) >= needed ? leader(score) : null;
}

function opponentOfCarded(rows: readonly Row[], card: CardColour): Side | null {
  const carded = sides.filter((side) =>
    rows.some(
      (row) =>
        row.kind === "card" && row.entry.card === card && (row.entry.to === side || row.entry.to === "both"),
    ),
  );
  const [only, other] = carded;
  return only !== undefined && other === undefined ? opponent(only) : null;
}

function betterSeed({ fencers }: Bout): Side | null {
  const { left, right } = fencers;
  if (left.seed === undefined || right.seed === undefined || left.seed === right.seed) return null;
  return left.seed < right.seed ? "left" : "right";
}
