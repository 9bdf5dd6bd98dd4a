// Times that can't be right.

import { formatTime } from "../../bout/time";
import { timeOf } from "../../bout/written";
import { byOwnFormat, relatedTo, type Check } from "./check";

export const outOfOrder: Check = (row, { previous }, report) => {
  if (previous === undefined || timeOf(row.entry) >= timeOf(previous.entry)) return;
  report(row, {
    rule: "out-of-order",
    severity: "error",
    message: `this entry's time, ${row.record.at}, is before that of the entry above it, ${previous.record.at}; the log is in time order: move the entry or correct its time`,
    from: byOwnFormat,
    related: relatedTo(previous, `the entry above it, at ${previous.record.at}`),
  });
};

export const haltBeforeStart: Check<"phrase"> = (row, _past, report) => {
  if (row.entry.halt === undefined || row.entry.halt >= row.entry.start) return;
  report(row, {
    rule: "halt-before-start",
    severity: "error",
    message: "this phrase is halted before it starts; correct one of the two times",
    from: byOwnFormat,
  });
};

/** Compared with the phrase halted last of all above it: one that overlaps any of them overlaps that one. */
export const overlap: Check<"phrase"> = (row, { lastHalted }, report) => {
  const halted = lastHalted?.entry.halt;
  if (lastHalted === undefined || halted === undefined) return;
  const { start, halt = start } = row.entry;
  if (start >= halted || Math.max(halt, start + 1) <= lastHalted.entry.start) return;
  report(row, {
    rule: "overlap",
    severity: "error",
    message: `phrase ${row.phrase.number} starts before phrase ${lastHalted.phrase.number} (${lastHalted.record.at}) is halted; correct the start of this one or the halt of that one`,
    from: byOwnFormat,
    related: relatedTo(
      lastHalted,
      `phrase ${lastHalted.phrase.number} is halted only at ${formatTime(halted)}`,
    ),
  });
};

export const overBeforeItBegan: Check<"stop" | "gap"> = (row, _past, report) => {
  const { at, until } = row.entry;
  if (until === undefined || until >= at) return;
  report(row, {
    rule: "over-before-it-began",
    severity: "error",
    message: `this ${row.kind} is over before it begins; correct one of its two times`,
    from: byOwnFormat,
  });
};

export const phraseInReplay: Check<"phrase"> = (row, _past, report) => {
  if (row.before.pose.shot !== "replay") return;
  report(row, {
    rule: "phrase-in-replay",
    severity: "warning",
    message: `phrase ${row.phrase.number} starts while the picture is a replay, whose times are not the phrase's own; tag it where it was fenced, or add the shot that ends the replay`,
    from: byOwnFormat,
  });
};
