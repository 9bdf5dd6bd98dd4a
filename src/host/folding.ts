// Which lines fold by period. VS Code adds these to the folds of its own JSON support, and drops a fold that crosses
// another or begins on the same line; so a fold of ours stays inside the log and leaves an entry of several lines its own.

import type { Stretch } from "../bout/scan";
import type { Heading } from "./outline";

/** Lines from 0, the last one included. */
export interface Fold {
  readonly start: number;
  readonly end: number;
}

export function foldsOf(
  headings: readonly Heading[],
  log: Stretch,
  lineAt: (offset: number) => number,
): readonly Fold[] {
  const close = lineAt(log.offset + log.length - 1);
  return headings.flatMap(({ range, first }, position) => {
    const next = headings[position + 1];
    const end = Math.min(
      lineAt(range.offset + range.length),
      close - 1,
      next === undefined ? Infinity : lineAt(next.range.offset) - 1,
    );
    // The line on which the first entry ends: where it takes several, the one it begins on is the start of its own fold.
    const start = lineAt(first.offset + first.length);
    return start < end && start > lineAt(log.offset) ? [{ start, end }] : [];
  });
}
