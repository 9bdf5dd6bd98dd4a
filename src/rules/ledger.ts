// What is the score, and why? One fold over the log, in order, gives a row per entry with the state after it. Findings,
// figures, pages and exports read these rows; no second place counts a score.

import type { Bout } from "../bout/read";
import type { Milliseconds } from "../bout/time";
import type { Side } from "../bout/words";
import type { Edition } from "./edition";
import { Fold } from "./fold";
import type { Row, Sided, State, Touches } from "./rows";
import { winnerOf } from "./winner";

export interface Ledger {
  readonly bout: Bout;
  readonly edition: Edition;
  /** One for each entry that could be read, in the log's order. */
  readonly rows: readonly Row[];
  /** The same rows by their place in `log`; undefined for an entry that could not be read. */
  readonly byEntry: readonly (Row | undefined)[];
  readonly start: State;
  /** After the last entry. */
  readonly end: State;
  readonly touches: Sided<Touches>;
  /** Null while undecided. */
  readonly winner: Side | null;
}

/** Counts the bout by the rules of an edition. Takes any log, however wrong, and never throws. */
export function ledger(bout: Bout, edition: Edition): Ledger {
  const start = startOf(bout, edition);
  const fold = new Fold(start, bout.about.video !== false);
  for (const record of bout.log) fold.add(record);
  const { rows, byEntry, state } = fold;
  return {
    bout,
    edition,
    rows,
    byEntry,
    start,
    end: state,
    touches: fold.touches(),
    winner: winnerOf(bout, edition, rows, state),
  };
}

function startOf(bout: Bout, edition: Edition): State {
  const appeals = bout.about.video === false ? null : edition.formats[bout.about.format].appeals.value;
  return {
    score: [0, 0],
    cards: { left: [], right: [] },
    appeals: appeals === null ? null : { left: appeals, right: appeals },
    period: 1,
    fencing: 0 as Milliseconds,
    fencingInPeriod: 0 as Milliseconds,
    priority: null,
    pose: { shot: "main", fit: null, platforms: { left: null, right: null } },
    ended: null,
  };
}
