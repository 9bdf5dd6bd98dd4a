// What placed points mean for the log: a fit or a platforms entry at their frame.

import type { Bout } from "../bout/read";
import type { Change, Json } from "../bout/edit";
import { formatTime, type Milliseconds } from "../bout/time";
import { timeOf } from "../bout/written";

type Pair = readonly [number, number];

export interface FitPoints {
  readonly kind: "fit";
  readonly points: readonly { readonly image: Pair; readonly floor: Pair }[];
}

export interface PlatformCorners {
  readonly kind: "platforms";
  /** Inner corner first; null for a side that can't be seen. */
  readonly left: readonly [Pair, Pair] | null;
  readonly right: readonly [Pair, Pair] | null;
}

/** Points placed again at the same frame take the place of the earlier ones. Undefined where no corner was placed. */
export function placingChange(
  bout: Bout,
  at: Milliseconds,
  placed: FitPoints | PlatformCorners,
): Change | undefined {
  const fields: Record<string, Json> =
    placed.kind === "fit"
      ? {
          points: placed.points.map(({ image, floor }) => ({
            image: onPicture(image),
            floor: onFloor(floor),
          })),
        }
      : {
          ...(placed.left === null ? {} : { left: placed.left.map(onPicture) }),
          ...(placed.right === null ? {} : { right: placed.right.map(onPicture) }),
        };
  if (Object.keys(fields).length === 0) return undefined;
  const there = bout.log.find(({ entry }) => entry.kind === placed.kind && timeOf(entry) === at);
  if (there === undefined)
    return { do: "insert", entry: { kind: placed.kind, at: formatTime(at), ...fields } };
  return {
    do: "change",
    index: there.index,
    fields: Object.entries(fields).map(([name, value]) => ({ path: [name], value })),
  };
}

/** A hundred-thousandth of the frame is a fraction of a pixel. */
function onPicture([x, y]: Pair): [number, number] {
  return [rounded(x, 5), rounded(y, 5)];
}

/** Floor points are measured with a tape, to a millimetre at best. */
function onFloor([x, y]: Pair): [number, number] {
  return [rounded(x, 3), rounded(y, 3)];
}

function rounded(value: number, decimals: number): number {
  return Number(value.toFixed(decimals)) + 0;
}
