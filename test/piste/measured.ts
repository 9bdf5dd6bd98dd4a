// Fits and poses that a test takes for granted: a reason instead of a value fails it.

import {
  type Fit,
  type FitPoint,
  fitOf,
  type FloorFit,
  type Platforms,
  type Pose,
  poseOf,
} from "../../src/piste";

export function fitted(points: readonly FitPoint[]): Fit {
  const fit = fitOf(points);
  if (!fit.ok) throw new Error(fit.problem);
  return fit.value;
}

export function floorFitted(points: readonly FitPoint[]): FloorFit {
  const fit = fitted(points);
  if (fit.kind !== "floor") throw new Error("this is a scale");
  return fit;
}

export function posed(fit: Fit, platforms: Platforms): Pose {
  const pose = poseOf(fit, platforms);
  if (!pose.ok) throw new Error(pose.problem);
  return pose.value;
}
