// Fits and platforms that can't be put on the floor, or not where they say.

import type { ImagePoint } from "../../piste";
import { toAlong, type Pose } from "../../piste";
import { posesOf } from "../poses";
import { byOwnFormat, relatedTo, type Check } from "./check";

export const unusableFit: Check<"fit"> = (row, { ledger }, report) => {
  const fit = posesOf(ledger).fits.get(row.record.index);
  if (fit?.ok !== false) return;
  report(row, {
    rule: "unusable-fit",
    severity: "warning",
    message: `this fit can't be used: ${fit.problem}`,
    from: byOwnFormat,
  });
};

export const mirroredFit: Check<"fit"> = (row, { ledger }, report) => {
  const fit = posesOf(ledger).fits.get(row.record.index);
  if (fit?.ok !== true || fit.value.kind !== "floor" || !fit.value.mirrored) return;
  report(row, {
    rule: "mirrored-fit",
    severity: "warning",
    message:
      "these points show the floor as in a mirror: left and right, or near and far, are mixed up in some of them; along the piste + is towards the right end, across + is away from the referee",
    from: byOwnFormat,
  });
};

export const unusablePlatforms: Check<"platforms"> = (row, { ledger }, report) => {
  const pose = posesOf(ledger).poses.get(row.record.index);
  if (pose?.ok !== false) return;
  const { fit } = row.state.pose;
  report(row, {
    rule: "unusable-platforms",
    // Platforms may well be clicked before the fit; a fit that is there and does not serve has its own finding.
    severity: fit === null || posesOf(ledger).fits.get(fit)?.ok === false ? "note" : "warning",
    message: `these platforms take no part in the drift: ${pose.problem}`,
    from: byOwnFormat,
    related: fit === null ? undefined : relatedTo(ledger.byEntry[fit], "the fit in force"),
  });
};

export const swappedPlatforms: Check<"platforms"> = (row, { ledger }, report) => {
  const pose = posesOf(ledger).poses.get(row.record.index);
  if (pose?.ok !== true || (pose.value.fit.kind === "floor" && pose.value.fit.mirrored)) return;
  const swapped = swappedIn(pose.value);
  if (swapped === undefined) return;
  const { fit } = row.state.pose;
  report(row, {
    rule: "swapped-platforms",
    severity: "warning",
    message: `${swapped}; place the corners again, the inner one of each side first, or look at the fit's points`,
    from: byOwnFormat,
    related: fit === null ? undefined : relatedTo(ledger.byEntry[fit], "the fit in force"),
  });
};

/** Places along the piste of the four corners, + towards the right end. */
function swappedIn({ fit, clicks, frame }: Pose): string | undefined {
  const along = (corner: ImagePoint) => (fit.kind === "scale" ? toAlong(fit, corner) : 0);
  const corners =
    frame === null
      ? {
          left: { inner: along(clicks.left[0]), outer: along(clicks.left[1]) },
          right: { inner: along(clicks.right[0]), outer: along(clicks.right[1]) },
        }
      : {
          left: { inner: frame.left.inner[0], outer: frame.left.outer[0] },
          right: { inner: frame.right.inner[0], outer: frame.right.outer[0] },
        };
  const { left, right } = corners;
  if (left.inner + left.outer > right.inner + right.outer)
    return "the platform written for left stands to the right of the other one";
  const wrong = [
    ...(left.inner < left.outer ? ["left"] : []),
    ...(right.inner > right.outer ? ["right"] : []),
  ];
  if (wrong.length === 0) return undefined;
  return `the inner and the outer corner of the ${wrong.join(" and the ")} platform have changed places`;
}

export const platformsOutsidePicture: Check<"platforms"> = (row, _past, report) => {
  const corners = [...(row.entry.left ?? []), ...(row.entry.right ?? [])];
  if (corners.every(([x, y]) => x >= 0 && x <= 1 && y >= 0 && y <= 1)) return;
  report(row, {
    rule: "platforms-outside-picture",
    severity: "note",
    message:
      "a corner of these platforms lies outside the picture (fractions of it go from 0 to 1); if it was guessed, leave that side out",
    from: byOwnFormat,
  });
};
