// What in the log do the rules or the evidence contradict? The checks of `findings/run.ts`, and those of the picture.

import type { Finding } from "./findings/check";
import {
  mirroredFit,
  platformsOutsidePicture,
  swappedPlatforms,
  unusableFit,
  unusablePlatforms,
} from "./findings/picture";
import { runChecks, type Checks, type PictureKind } from "./findings/run";
import type { Ledger } from "./ledger";

export type { Finding, Related } from "./findings/check";
export { inOrder } from "./findings/run";

const ofPicture: Checks<PictureKind> = {
  fit: [unusableFit, mirroredFit],
  platforms: [unusablePlatforms, swappedPlatforms, platformsOutsidePicture],
};

/** The findings about the log, by entry, then the gravest first. */
export function findingsOf(ledger: Ledger): readonly Finding[] {
  return runChecks(ledger, ofPicture);
}
