// Whom has the fencer met, and whom have two fencers both met?

import type { OwnBout } from "./fencers";
import { pick, touchRow, type TouchRow } from "./pooling";

export interface CommonOpponent {
  readonly key: string;
  readonly name: string;
  /** Of the fencer's bouts with this opponent, and of the other's. */
  readonly fencer: TouchRow;
  readonly against: TouchRow;
}

/** One row an opponent, most phrases first. */
export function opponentsOf(bouts: readonly OwnBout[]): readonly TouchRow[] {
  return keysOf(bouts)
    .map((key) => rowWith(bouts, key))
    .sort((one, other) => other.phrases - one.phrases);
}

/** Opponents both have met, beside each other. No difference is tested: the two fenced other days and other bouts. */
export function commonOpponents(
  one: readonly OwnBout[],
  other: readonly OwnBout[],
): readonly CommonOpponent[] {
  const theirs = new Set(keysOf(other));
  return keysOf(one)
    .filter((key) => theirs.has(key))
    .map((key) => {
      const [fencer, against] = [rowWith(one, key), rowWith(other, key)];
      return { key, name: fencer.label, fencer, against };
    });
}

function keysOf(bouts: readonly OwnBout[]): readonly string[] {
  return [...new Set(bouts.map(({ opponent }) => opponent.key))];
}

function rowWith(bouts: readonly OwnBout[], key: string): TouchRow {
  const met = bouts.filter(({ opponent }) => opponent.key === key);
  return touchRow(
    `opponent.${key}`,
    met[0]?.opponent.name ?? key,
    pick(met, () => true),
  );
}
