// Rows of the shelf for tests.

import type { BoutRow } from "../../src/shelf";

export function boutRow(file: string, more: Partial<BoutRow> = {}): BoutRow {
  return {
    is: "bout",
    file,
    size: 1,
    modified: 1,
    sum: file,
    weapon: "foil",
    format: "pool",
    rules: "wheelchair-2026",
    fencers: { left: { name: "Vessa Tarn", category: "A" }, right: { name: "Kel Odrey", category: "B" } },
    score: [5, 3],
    winner: "left",
    phrases: 8,
    uncalled: 0,
    findings: { error: 0, warning: 0, note: 0 },
    recordings: [],
    ...more,
  };
}
