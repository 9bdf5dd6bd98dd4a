// Times that can't be right.

import type { Edition } from "../edition";
import type { State } from "../rows";
import { ownFormat, type Check } from "./check";
import { timeOf } from "../../bout/schema";

export const outOfOrder: Check = (row, { previous }) =>
  previous !== undefined && timeOf(row.entry) < timeOf(previous.entry)
    ? {
        rule: "out-of-order",
        severity: "error",
        message: `this entry's time, ${row.record.at}, is before that of the entry above it, ${previous.record.at}; the log is in time order: move the entry or correct its time`,
        source: ownFormat,
      }
    : undefined;

export const haltBeforeStart: Check = (row) =>
  row.kind === "phrase" && row.entry.halt !== undefined && row.entry.halt < row.entry.start
    ? {
        rule: "halt-before-start",
        severity: "error",
        message: "this phrase is halted before it starts; correct one of the two times",
        source: ownFormat,
      }
    : undefined;

export const overlap: Check = (row, { phrase }) =>
  row.kind === "phrase" &&
  phrase?.entry.halt !== undefined &&
  row.entry.start >= phrase.entry.start &&
  row.entry.start < phrase.entry.halt
    ? {
        rule: "overlap",
        severity: "error",
        message: `phrase ${row.phrase.number} starts before phrase ${phrase.phrase.number} (${phrase.record.at}) is halted; correct the start of this one or the halt of that one`,
        source: ownFormat,
      }
    : undefined;

/** Seconds by which tagged halts may lag behind the clock before a period counts as too long. */
const allowance = 3;

export const periodTooLong: Check = (row, { ledger: { edition, bout } }) => {
  if (row.kind !== "phrase") return undefined;
  const limit = limitOf(edition.formats[bout.about.format], row.state.period);
  if (limit.value === null) return undefined;
  const most = (limit.value + allowance) * 1000;
  if (row.before.fencingInPeriod > most || row.state.fencingInPeriod <= most) return undefined;
  const period = row.state.period === "extra" ? "the extra minute" : `period ${row.state.period}`;
  return {
    rule: "period-too-long",
    severity: "warning",
    message: `with this phrase ${period} has ${(row.state.fencingInPeriod / 1000).toFixed(1)} s of fencing; it ends at ${limit.value} s. Look for a halt that is too late, or add the entry of the next period`,
    source: limit.source,
  };
};

function limitOf(
  format: Edition["formats"]["pool"],
  period: State["period"],
): { value: number | null; source: string } {
  return period === "extra" ? format.extraSeconds : format.periodSeconds;
}

export const afterTheEnd: Check = (row, { ledger }) => {
  if (row.kind !== "phrase" || row.phrase.counts) return undefined;
  const ended = row.before.ended === null ? undefined : ledger.byEntry[row.before.ended];
  return {
    rule: "phrase-after-end",
    severity: "error",
    message: `the bout ended at ${ended?.record.at ?? "an earlier entry"}; this phrase comes later and is not counted; correct one of the two times, or delete the end`,
    source: "FIE t.37.3",
  };
};
