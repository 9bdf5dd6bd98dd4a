// A table as comma-separated text, after RFC 4180: lines end in CR LF, the first holds the names of the columns.

import type { Cell, Table } from "./cells";

export function csvText({ columns, rows }: Pick<Table, "columns" | "rows">): string {
  return [columns, ...rows].map((row) => row.map(fieldOf).join(",") + "\r\n").join("");
}

/** Text that a spreadsheet would take for a formula gets an apostrophe in front; numbers stay as they are. */
const formula = /^[=+\-@\t\r]/;

function fieldOf(cell: Cell): string {
  if (cell === null) return "";
  if (typeof cell === "number") return String(cell);
  const text = formula.test(cell) ? `'${cell}` : cell;
  return /[",\r\n]/.test(text) ? `"${text.replaceAll('"', '""')}"` : text;
}
