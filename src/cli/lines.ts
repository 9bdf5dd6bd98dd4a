// Plain lines for a terminal: no colours, columns aligned, and nothing from a file that a terminal would obey.

const obeyed = /[\u0000-\u001f\u007f-\u009f\u200e\u200f\u202a-\u202e\u2066-\u2069]/g;

/** The text on one line, its control characters shown as a box. */
export function plain(text: string): string {
  return text.replace(obeyed, "\u25a1");
}

/** Rows under each other, each column as wide as its widest cell. */
export function table(rows: readonly (readonly string[])[], gap = "   "): string[] {
  const widths: number[] = [];
  for (const row of rows)
    row.forEach((cell, column) => (widths[column] = Math.max(widths[column] ?? 0, width(cell))));
  return rows.map((row) =>
    row
      .map((cell, column) => cell + " ".repeat(Math.max(0, (widths[column] ?? 0) - width(cell))))
      .join(gap)
      .trimEnd(),
  );
}

/** Characters, counting one made of several code units as one. */
function width(cell: string): number {
  return Array.from(cell).length;
}

/** `12 of 40, 30.0 % (18.1–45.4)`; without a share where there is nothing to count. */
export function rateText(rate: {
  readonly count: number;
  readonly of: number;
  readonly value: number | null;
  readonly low: number | null;
  readonly high: number | null;
}): string {
  const { count, of, value, low, high } = rate;
  const share =
    value === null || low === null || high === null
      ? ""
      : `, ${percent(value)} % (${percent(low)}\u2013${percent(high)})`;
  return `${count} of ${of}${share}`;
}

function percent(share: number): string {
  return (share * 100).toFixed(1);
}
