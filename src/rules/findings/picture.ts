// Fits and platforms that can't be put on the floor.

import { posesOf } from "../poses";
import { ownFormat, type Check } from "./check";

export const unusableFit: Check = (row, { ledger }) => {
  const fit = row.kind === "fit" ? posesOf(ledger).fits.get(row.record.index) : undefined;
  return fit === undefined || fit.ok
    ? undefined
    : {
        rule: "unusable-fit",
        severity: "warning",
        message: `this fit can't be used: ${fit.problem}`,
        source: ownFormat,
      };
};

export const unusablePlatforms: Check = (row, { ledger }) => {
  const pose = row.kind === "platforms" ? posesOf(ledger).poses.get(row.record.index) : undefined;
  if (pose === undefined || pose.ok) return undefined;
  const { fit } = row.state.pose;
  return {
    rule: "unusable-platforms",
    // Platforms may well be clicked before the fit; a fit that is there and does not serve has its own finding.
    severity: fit === null || posesOf(ledger).fits.get(fit)?.ok === false ? "note" : "warning",
    message: `these platforms take no part in the drift: ${pose.problem}`,
    source: ownFormat,
  };
};
