// What can go wrong for a user, as values: a message that says what, where and what to do.

export type Severity = "error" | "warning" | "note";

/** A stretch of the text: `offset` and `length` in UTF-16 units from 0, `line` and `column` from 1. */
export interface Place {
  readonly offset: number;
  readonly length: number;
  readonly line: number;
  readonly column: number;
}

/** Something a user can put right. `entry` is the index in `log` (from 0) where the place lies inside one. */
export interface Problem {
  readonly rule: string;
  readonly severity: Severity;
  readonly message: string;
  readonly place: Place;
  readonly entry?: number;
}

export type Result<T, P = Problem> =
  { readonly ok: true; readonly value: T } | { readonly ok: false; readonly problem: P };

export function success<T>(value: T): { readonly ok: true; readonly value: T } {
  return { ok: true, value };
}

export function failure<P>(problem: P): { readonly ok: false; readonly problem: P } {
  return { ok: false, problem };
}
