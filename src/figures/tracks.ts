// The stretches of a drift as plain numbers to draw: where both near edges lay on the floor, place after place.

import { moveError, toAlong, type FloorPoint } from "../piste";
import type { DriftStudy, Place, StretchEnd } from "./drift";

/** A near edge on the floor in metres, its inner corner first. */
export type Edge = readonly [inner: FloorPoint, outer: FloorPoint];

export interface TrackPlace {
  readonly entry: number;
  /** Milliseconds. */
  readonly at: number;
  /** Phrases fenced before it, in the whole bout. */
  readonly phrases: number;
  /** Metres along the piste of the middle of both platforms. */
  readonly along: number;
  /** 95 % half-width of the way along from the first place of the track; 0 there. */
  readonly error: number;
  readonly left: Edge;
  readonly right: Edge;
}

export interface Track {
  readonly places: readonly TrackPlace[];
  readonly end: StretchEnd;
}

export function tracksOf({ stretches }: Pick<DriftStudy, "stretches">): readonly Track[] {
  return stretches.map(({ places, end }) => ({
    end,
    places: places.map((place, index): TrackPlace => {
      const { entry, at, phrases, pose } = place;
      const first = places[0];
      const error = index === 0 || first === undefined ? 0 : moveError(first.pose, pose).along;
      return { entry, at, phrases, along: pose.along, error, ...edgesOf(place) };
    }),
  }));
}

/** A fit of two points has all corners on one line. */
function edgesOf({ pose }: Place): { readonly left: Edge; readonly right: Edge } {
  if (pose.frame !== null) {
    const { left, right } = pose.frame;
    return { left: [left.inner, left.outer], right: [right.inner, right.outer] };
  }
  const { fit, clicks } = pose;
  const level = (corner: readonly [number, number]): FloorPoint => [toAlong(fit, corner), 0];
  return {
    left: [level(clicks.left[0]), level(clicks.left[1])],
    right: [level(clicks.right[0]), level(clicks.right[1])],
  };
}
