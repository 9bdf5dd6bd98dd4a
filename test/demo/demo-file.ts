// The shipped demo as the tests read it: the entries of its bout file, their times, and where the recording is.
import { readFileSync } from "node:fs";
import path from "node:path";
import { type ParseError, parse } from "jsonc-parser";
import type { Side } from "./timeline.mjs";
import type { Point } from "./truth.mjs";

export interface Entry {
  kind: string;
  at?: string;
  start?: string;
  halt?: string;
  until?: string;
  play?: boolean;
  actions?: string[];
  lamps?: Partial<Record<Side, string>>;
  award?: string;
  because?: string;
  annulled?: string;
  by?: string;
  result?: string;
  to?: string;
  card?: string;
  number?: number;
  score?: [number, number];
  clock?: string;
  confirmed?: boolean;
  points?: { image: Point; floor: Point }[];
  left?: [Point, Point];
  right?: [Point, Point];
}

const folder = path.join(import.meta.dirname, "../../media/demo");
export const recording = path.join(folder, "demo.mp4");
export const text = readFileSync(path.join(folder, "demo.bout.json"), "utf8");
export const problems: ParseError[] = [];
export const file = parse(text, problems) as { boutline: number; recordings: unknown; log: Entry[] };
export const log = file.log;

/** Milliseconds of a time written h:mm:ss.mmm. */
export function milliseconds(time: string): number {
  const match = /^(\d+):([0-5]\d):([0-5]\d)\.(\d{3})$/.exec(time);
  if (match === null) throw new Error(`${time} is not a time`);
  const [hours, minutes, seconds, rest] = match.slice(1).map(Number) as [number, number, number, number];
  return ((hours * 60 + minutes) * 60 + seconds) * 1000 + rest;
}

/** The frame meant by a time: 40 milliseconds each. */
export const frameOf = (time: string) => milliseconds(time) / 40;
export const begins = (entry: Entry) => milliseconds(entry.at ?? entry.start ?? "");
export const of = (kind: string) => log.filter((entry) => entry.kind === kind);
