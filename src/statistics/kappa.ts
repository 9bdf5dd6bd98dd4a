// How far do two people agree beyond what their habits alone would give?

import { clopperPearsonInterval } from "./proportion";
import { normalHalfWidth, requireCount, usualLevel } from "./level";

export interface Kappa {
  /** Cases judged by both. */
  readonly of: number;
  /** Cases judged alike. */
  readonly agreed: number;
  /** Share expected to agree by chance, given how often each used each word. */
  readonly chance: number;
  /** Null where kappa can't be said: no case, or both used one and the same word throughout. */
  readonly value: number | null;
  /** Null too where one of them used one word throughout: kappa is then 0 whatever the other says. */
  readonly low: number | null;
  readonly high: number | null;
}

/**
 * Cohen's kappa of a square table of counts: rows what the first said, columns what the second said, words in the same
 * order. Cohen, Educational and Psychological Measurement 20 (1960) 37-46. Limits by the large-sample standard error
 * of Fleiss, Cohen and Everitt, Psychological Bulletin 72 (1969) 323-327. That error is 0 where the two agree in
 * everything, or in nothing; the missing limit then comes from the exact (Clopper-Pearson) limit of the share agreed,
 * chance agreement taken as seen.
 */
export function cohensKappa(table: readonly (readonly number[])[], level = usualLevel): Kappa {
  const size = table.length;
  const cell = (row: number, column: number) => table[row]?.[column] ?? 0;
  const places = Array.from({ length: size }, (_, index) => index);
  for (const row of table) {
    if (row.length !== size) throw new RangeError("The table must be square");
    row.forEach((count) => requireCount(count, "count"));
  }
  const of = places.reduce(
    (sum, row) => sum + places.reduce((inner, column) => inner + cell(row, column), 0),
    0,
  );
  const agreed = places.reduce((sum, place) => sum + cell(place, place), 0);
  if (of === 0) return { of, agreed, chance: 0, value: null, low: null, high: null };
  const rows = places.map((row) => places.reduce((sum, column) => sum + cell(row, column), 0) / of);
  const columns = places.map((column) => places.reduce((sum, row) => sum + cell(row, column), 0) / of);
  const row = (place: number) => rows[place] ?? 0;
  const column = (place: number) => columns[place] ?? 0;
  const chance = places.reduce((sum, place) => sum + row(place) * column(place), 0);
  if (rows.some((share, place) => share === 1 && columns[place] === 1))
    return { of, agreed, chance: 1, value: null, low: null, high: null };
  if ([...rows, ...columns].includes(1)) return { of, agreed, chance, value: 0, low: null, high: null };
  const kappaFor = (share: number) => (share - chance) / (1 - chance);
  const value = kappaFor(agreed / of);
  const apart = 1 - value;
  let sum = 0;
  for (const one of places)
    for (const other of places) {
      const share = cell(one, other) / of;
      const weight =
        one === other ? 1 - (row(one) + column(one)) * apart : (column(one) + row(other)) * apart;
      sum += share * weight * weight;
    }
  const variance = (sum - (value - chance * apart) ** 2) / (of * (1 - chance) ** 2);
  const half = normalHalfWidth(level) * Math.sqrt(Math.max(0, variance));
  const exact = clopperPearsonInterval(agreed, of, level);
  return {
    of,
    agreed,
    chance,
    value,
    low: agreed === of ? kappaFor(exact.low) : Math.max(-1, value - half),
    high: agreed === 0 ? kappaFor(exact.high) : agreed === of ? 1 : Math.min(1, value + half),
  };
}
