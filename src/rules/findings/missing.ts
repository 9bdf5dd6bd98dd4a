// What is still to be tagged: phrases not halted, not called, without lamps, or left to a review that never came.

import { byOwnFormat, type Check } from "./check";

export const notHalted: Check<"phrase"> = (row, _past, report) => {
  if (row.phrase.closed) return;
  report(row, {
    rule: "not-halted",
    severity: "note",
    message: `phrase ${row.phrase.number} is open; tag its halt`,
    from: byOwnFormat,
  });
};

export const notYetCalled: Check<"phrase"> = (row, _past, report) => {
  if (!row.phrase.closed || row.entry.award !== undefined || row.phrase.stands !== null) return;
  report(row, {
    rule: "not-yet-called",
    severity: "note",
    message: `phrase ${row.phrase.number} is halted and not yet called; until it is, it counts as a phrase without a touch`,
    from: byOwnFormat,
  });
};

export const lampsNotRecorded: Check<"phrase"> = (row, _past, report) => {
  if (!row.phrase.closed || row.entry.lamps !== undefined) return;
  report(row, {
    rule: "lamps-not-recorded",
    severity: "note",
    message: `the lamps of phrase ${row.phrase.number} are not recorded; write {} if none was lit`,
    from: byOwnFormat,
  });
};

export const pendingAward: Check<"phrase"> = (row, { followed }, report) => {
  if (row.entry.award !== "pending" || row.phrase.stands !== null) return;
  report(row, {
    rule: "pending-award",
    severity: followed ? "warning" : "note",
    message: `phrase ${row.phrase.number} waits for a review, and none after it says what stands; add the review, or the award (until then it counts as a phrase without a touch)`,
    from: byOwnFormat,
  });
};
