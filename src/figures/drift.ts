// Do the platforms slide, turn and close up? Steps between neighbouring platforms entries of the log.

import { driftSummary, moveBetween, type DriftSummary, type Pose, type Step } from "../piste";
import { posesOf, type Ledger } from "../rules";
import type { StopReason } from "../bout/words";

/** Null while there is no step. */
export function driftOf(ledger: Ledger): DriftSummary | null {
  const { steps, lastStretch } = stepsOf(ledger);
  return driftSummary(steps, lastStretch);
}

/** A step runs between two neighbouring platforms entries that show both sides, with no fit and no stop for re-centre
 * or distance between them. `lastStretch`: the poses since the last stop for distance. */
export function stepsOf(ledger: Ledger): {
  readonly steps: readonly Step[];
  readonly lastStretch: readonly Pose[];
} {
  const { poses } = posesOf(ledger);
  const steps: Step[] = [];
  let lastStretch: Pose[] = [];
  let from: { entry: number; pose: Pose } | undefined;
  let openers = { left: 0, right: 0, other: 0 };
  for (const row of ledger.rows) {
    switch (row.kind) {
      case "fit":
        from = undefined;
        break;
      case "stop":
        if (isFor(row.entry.for, "re-centre") || isFor(row.entry.for, "distance")) from = undefined;
        if (isFor(row.entry.for, "distance")) lastStretch = [];
        break;
      case "phrase": {
        const { opener, closed, counts } = row.phrase;
        if (closed && counts) openers[opener === "left" || opener === "right" ? opener : "other"]++;
        break;
      }
      case "platforms": {
        const pose = poses.get(row.record.index);
        if (pose === undefined) break;
        if (!pose.ok) {
          from = undefined;
          break;
        }
        const to = { entry: row.record.index, pose: pose.value };
        if (from !== undefined)
          steps.push({
            ...moveBetween(from.pose, to.pose),
            from: from.entry,
            to: to.entry,
            phrases: openers.left + openers.right + openers.other,
            openers,
          });
        from = to;
        openers = { left: 0, right: 0, other: 0 };
        lastStretch.push(to.pose);
        break;
      }
      default:
        break;
    }
  }
  return { steps, lastStretch };
}

function isFor(reasons: StopReason | readonly StopReason[], reason: StopReason): boolean {
  return typeof reasons === "string" ? reasons === reason : reasons.includes(reason);
}
