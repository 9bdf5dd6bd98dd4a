// Tables of plain cells, and how a figure is laid out in them.

import type { Entries, EvidencedRate, MedianFigure } from "../rates";

export type Cell = string | number | null;
export interface Table {
  /** Lower case with hyphens: a file's name. */
  readonly name: string;
  readonly columns: readonly string[];
  readonly rows: readonly (readonly Cell[])[];
}

export const rateColumns = ["count", "of", "share", "low", "high", "entries"];
export function rateCells({ count, of, value, low, high, entries }: EvidencedRate): readonly Cell[] {
  return [count, of, value, low, high, listed(entries)];
}

/** Entries of the log, with blanks between. */
export function listed(entries: Entries): string {
  return entries.join(" ");
}

export const medianColumns = ["count", "median", "low", "high", "least", "most", "entries"];
export function medianCells({
  count,
  median,
  low,
  high,
  least,
  most,
  entries,
}: MedianFigure): readonly Cell[] {
  return [count, median, low, high, least, most, listed(entries)];
}
