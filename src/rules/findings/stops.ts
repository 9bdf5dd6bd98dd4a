// Stops that last longer than the rules allow, or that only seated fencing knows.

import { seatedStops } from "../edition";
import { type Check, type RowOf } from "./check";

function reasons({ entry }: RowOf<"stop">): readonly string[] {
  return typeof entry.for === "string" ? [entry.for] : entry.for;
}

export const breakTooLong: Check<"stop"> = (row, { ledger }, report) => {
  const { at, until } = row.entry;
  if (until === undefined) return;
  const { medicalSeconds, chairRepairSeconds } = ledger.edition.breaks;
  const limits = [
    { reason: "medical", limit: medicalSeconds, what: "a break for an injury" },
    { reason: "loose chair", limit: chairRepairSeconds, what: "the repair of a chair" },
  ];
  for (const { reason, limit, what } of limits) {
    if (limit.value === null || !reasons(row).includes(reason)) continue;
    const lasted = (until - at) / 1000;
    if (lasted <= limit.value) continue;
    report(row, {
      rule: "break-too-long",
      severity: "note",
      message: `this stop lasts ${minutes(lasted)}, and ${what} may take ${minutes(limit.value)} (counted from the opinion of those who look at it, which may come later)`,
      from: limit,
    });
  }
};

function minutes(seconds: number): string {
  const whole = Math.round(seconds);
  return `${Math.floor(whole / 60)}:${String(whole % 60).padStart(2, "0")} min`;
}

export const seatedOnly: Check<"stop"> = (row, past, report) => {
  const { edition } = past.ledger;
  if (edition.seated.value) return;
  const reason = seatedStops.find((seated) => reasons(row).includes(seated));
  if (reason === undefined || !past.first(`seated-only ${reason}`)) return;
  report(row, {
    rule: "seated-only",
    severity: "note",
    message: `"${reason}" is a reason only seated fencing has, and ${edition.title} is not for seated fencing; correct the reason, or the edition if these fencers sit in chairs`,
    from: edition.seated,
  });
};
