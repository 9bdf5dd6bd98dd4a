// The phrase table as comma-separated text, after RFC 4180, with text that a spreadsheet would run made harmless.

import { phraseColumns, type PhraseCell, type PhraseTableRow } from "../figures";

export const csvHead = phraseColumns.map(({ name }) => name).join(",") + "\r\n";

export function csvLine(row: PhraseTableRow): string {
  return phraseColumns.map(({ name }) => csvField(row[name])).join(",") + "\r\n";
}

/** Text that begins like a formula, in the plain or the wide letters of East Asian keyboards. An apostrophe in front keeps
 * it text. Where apostrophes stand before it already it gets one more, so that taking one away always gives the text
 * back. Numbers are never touched: a negative number stays one. */
const formula = /^'*[=+\-@\t\r\n\uff1d\uff0b\uff0d\uff20]/;

/** What takes the apostrophe away again, for a column c, in SQL with regular expressions. */
export const csvReadBack = String.raw`regexp_replace(c, '^''(''*[=+\-@\t\r\n＝＋－＠])', '\1')`;

export function csvField(cell: PhraseCell): string {
  if (cell === null) return "";
  if (typeof cell !== "string") return String(cell);
  const text = formula.test(cell) ? `'${cell}` : cell;
  // An empty text is quoted, which tells it from an empty cell.
  return text === "" || /[",\r\n]/.test(text) ? `"${text.replaceAll('"', '""')}"` : text;
}
