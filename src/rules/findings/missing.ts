// What is still to be tagged: phrases not halted, not called, without lamps, or left to a review that never came.

import { ownFormat, type Check } from "./check";

export const notHalted: Check = (row) =>
  row.kind === "phrase" && !row.phrase.closed
    ? {
        rule: "not-halted",
        severity: "note",
        message: `phrase ${row.phrase.number} is open; tag its halt`,
        source: ownFormat,
      }
    : undefined;

export const notYetCalled: Check = (row) =>
  row.kind === "phrase" && row.phrase.closed && row.entry.award === undefined && row.phrase.stands === null
    ? {
        rule: "not-yet-called",
        severity: "note",
        message: `phrase ${row.phrase.number} is halted and not yet called; until it is, it counts as a phrase without a touch`,
        source: ownFormat,
      }
    : undefined;

export const lampsNotRecorded: Check = (row) =>
  row.kind === "phrase" && row.phrase.closed && row.entry.lamps === undefined
    ? {
        rule: "lamps-not-recorded",
        severity: "note",
        message: `the lamps of phrase ${row.phrase.number} are not recorded; write {} if none was lit`,
        source: ownFormat,
      }
    : undefined;

export const pendingAward: Check = (row, { followed }) =>
  row.kind === "phrase" && row.entry.award === "pending" && row.phrase.stands === null
    ? {
        rule: "pending-award",
        severity: followed ? "warning" : "note",
        message: `phrase ${row.phrase.number} waits for a review, and none after it says what stands; add the review, or the award (until then it counts as a phrase without a touch)`,
        source: ownFormat,
      }
    : undefined;
