// Where do the platforms stand on the floor, how do they move, and how sure is that? Clicks in the picture become floor
// metres through a fit, corners a pose, neighbouring poses a move, and all moves of a bout its drift.

export {
  checkReference,
  expectedError,
  gridLines,
  type GridLine,
  platformsInMiddle,
  type ReferenceCheck,
} from "./camera-tells";
export { doubtOfFit, doubtOfMove, doubtOfPose, inPicture } from "./doubt";
export {
  driftSummary,
  type DriftByOpener,
  type DriftSummary,
  gapDrift,
  type GapDrift,
  type Step,
} from "./drift";
export { clickError, moveError, type MoveError } from "./error";
export {
  alongToImage,
  type Fit,
  type FitPoint,
  fitOf,
  type FloorFit,
  type ScaleFit,
  toAlong,
  toFloor,
  toImage,
} from "./fit";
export {
  type Corners,
  type Frame,
  type Platform,
  platformOf,
  type Platforms,
  type Pose,
  poseOf,
} from "./pose";
export type { FloorPoint, ImagePoint } from "./points";
export { type Move, moveBetween } from "./step";
