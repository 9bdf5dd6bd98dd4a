// Where the platforms of a bout stand, entry by entry: the log's fits and platforms put through `piste/`.

import type { Result } from "../bout/result";
import { failure } from "../bout/result";
import type { EntryOf } from "../bout/schema";
import { fitOf, poseOf, type Fit, type Platforms, type Pose } from "../piste";
import type { Ledger } from "./ledger";

export interface Poses {
  /** Each fit by its entry, or why it is none. Poses of the same fit hold the very same object. */
  readonly fits: ReadonlyMap<number, Result<Fit, string>>;
  /** The pose at each platforms entry that shows both sides, or why there is none. */
  readonly poses: ReadonlyMap<number, Result<Pose, string>>;
}

const known = new WeakMap<Ledger, Poses>();

/** Fits and poses of entries, which stay the same objects while their text does: one edit computes one pose. */
const knownFits = new WeakMap<EntryOf<"fit">, Result<Fit, string>>();
const knownPoses = new WeakMap<
  EntryOf<"platforms">,
  { readonly fit: Fit; readonly pose: Result<Pose, string> }
>();

function fitAt(entry: EntryOf<"fit">): Result<Fit, string> {
  let fit = knownFits.get(entry);
  if (fit === undefined) knownFits.set(entry, (fit = fitOf(entry.points)));
  return fit;
}

function poseAt(entry: EntryOf<"platforms">, fit: Fit, clicks: Platforms): Result<Pose, string> {
  const before = knownPoses.get(entry);
  if (before?.fit === fit) return before.pose;
  const pose = poseOf(fit, clicks);
  knownPoses.set(entry, { fit, pose });
  return pose;
}

/** Computed once for a ledger. */
export function posesOf(ledger: Ledger): Poses {
  const before = known.get(ledger);
  if (before !== undefined) return before;
  const fits = new Map<number, Result<Fit, string>>();
  const poses = new Map<number, Result<Pose, string>>();
  for (const { kind, entry, record, state } of ledger.rows) {
    if (kind === "fit") fits.set(record.index, fitAt(entry));
    if (kind !== "platforms" || entry.left === undefined || entry.right === undefined) continue;
    const fit = state.pose.fit === null ? undefined : fits.get(state.pose.fit);
    const pose =
      fit === undefined
        ? failure(noFit(state.pose.shot))
        : fit.ok
          ? poseAt(entry, fit.value, { left: entry.left, right: entry.right })
          : failure("the fit before it can't be used");
    poses.set(record.index, pose);
  }
  const found = { fits, poses };
  known.set(ledger, found);
  return found;
}

function noFit(shot: string): string {
  return `no fit ties the picture of the shot "${shot}" to the floor`;
}
