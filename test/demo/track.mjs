// Values that move from pose to pose: numbers by name, given at some frames, eased in between.

/** Fifth-degree ease from 0 to 1 with no speed and no acceleration at either end (minimum jerk). */
export function ease(share) {
  const t = Math.min(1, Math.max(0, share));
  return t * t * t * (10 - 15 * t + 6 * t * t);
}

/** A mover: `to(from, until, values)` moves the named numbers between two frames; `at(frame)` gives all of them. */
export class Track {
  #moves = new Map();

  constructor(rest) {
    for (const [name, value] of Object.entries(rest))
      this.#moves.set(name, [{ from: 0, until: 0, before: value, after: value }]);
  }

  /** A move starts from where the one before had got to, and takes the place of those that would begin after it. */
  to(from, until, values) {
    for (const [name, value] of Object.entries(values)) {
      const moves = this.#moves.get(name);
      while (moves.length > 1 && moves[moves.length - 1].from >= from) moves.pop();
      moves.push({ from, until: Math.max(until, from + 1), before: this.#value(moves, from), after: value });
    }
  }

  at(frame) {
    const found = {};
    for (const [name, moves] of this.#moves) found[name] = this.#value(moves, frame);
    return found;
  }

  #value(moves, frame) {
    let low = 0;
    let high = moves.length - 1;
    while (low < high) {
      const middle = (low + high + 1) >> 1;
      if (moves[middle].from <= frame) low = middle;
      else high = middle - 1;
    }
    const move = moves[low];
    if (frame >= move.until) return move.after;
    return move.before + (move.after - move.before) * ease((frame - move.from) / (move.until - move.from));
  }
}
