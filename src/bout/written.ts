// What everything that reads bout files knows of their format, without the library the schema is written in.

import type { Entry } from "./schema";
import type { Milliseconds } from "./time";

export const currentVersion = 1;

/** Nesting no bout file comes near; beyond it a text is refused rather than followed. */
export const deepest = 40;

/** The field that places an entry in time. */
export function timeField(kind: string): "start" | "at" {
  return kind === "phrase" ? "start" : "at";
}

export function timeOf(entry: Entry): Milliseconds {
  return entry.kind === "phrase" ? entry.start : entry.at;
}
