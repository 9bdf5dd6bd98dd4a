// Which stretch of one list is which of another? Matched by how long they overlap, in order, one to one.

export interface Span {
  readonly from: number;
  /** After `from`. */
  readonly to: number;
}
export interface Match {
  readonly first: number;
  readonly second: number;
  readonly overlap: number;
}

/**
 * Pairs places of both lists, each used at most once and none crossing another, so that the overlaps add up to the
 * most there can be. For lists whose own spans don't overlap no pairing at all has more: two crossing overlaps would
 * need spans of one list to overlap.
 */
export function matchSpans(first: readonly Span[], second: readonly Span[]): readonly Match[] {
  const width = second.length + 1;
  // How the best of the first `i` and `j` came about: 0 the pair itself, 1 without i's last, 2 without j's last.
  const came = new Uint8Array((first.length + 1) * width);
  let before = new Float64Array(width);
  first.forEach((one, i) => {
    const now = new Float64Array(width);
    second.forEach((other, j) => {
      const overlap = overlapOf(one, other);
      const paired = overlap > 0 ? (before[j] ?? 0) + overlap : -1;
      const [above, beside] = [before[j + 1] ?? 0, now[j] ?? 0];
      const most = Math.max(paired, above, beside);
      now[j + 1] = most;
      came[(i + 1) * width + j + 1] = most === paired ? 0 : most === above ? 1 : 2;
    });
    before = now;
  });
  const matches: Match[] = [];
  for (let i = first.length, j = second.length; i > 0 && j > 0;) {
    const how = came[i * width + j];
    if (how === 0) {
      const [one, other] = [first[--i], second[--j]];
      if (one !== undefined && other !== undefined)
        matches.push({ first: i, second: j, overlap: overlapOf(one, other) });
    } else if (how === 1) i--;
    else j--;
  }
  return matches.reverse();
}

export function overlapOf(one: Span, other: Span): number {
  return Math.max(0, Math.min(one.to, other.to) - Math.max(one.from, other.from));
}
