// What holds at a frame before anything is placed there: the fit of its shot, the place the platforms had last, and where
// they should be marked next.

import type { Item } from "../../messages/scene";
import { fitOf, type Corners, type Fit } from "../../piste";
import type { HeldScene } from "../held-scene";

/** The shot on screen: `main` until a shot entry says otherwise. */
export function shotAt(items: readonly Item[], at: number): string {
  const name = items.findLast((item) => item.kind === "shot" && item.at <= at)?.fields["name"];
  return typeof name === "string" ? name : "main";
}

/** The latest fit of the shot on screen; undefined where there is none that can be used. */
export function fitAt({ head, items }: HeldScene, at: number): Fit | undefined {
  const shot = shotAt(items, at);
  const last = head.fits.findLast((fit) => fit.shot === shot && fit.at <= at);
  const found = last === undefined ? undefined : fitOf(last.points);
  return found?.ok === true ? found.value : undefined;
}

/** Where each platform was marked last before a frame, in the shot that is on screen. */
export function lastPlatforms({ head, items }: HeldScene, at: number): readonly Corners[] {
  const shot = shotAt(items, at);
  return (["left", "right"] as const).flatMap((side): readonly Corners[] => {
    const last = head.poses.findLast(
      (pose) => pose.side === side && pose.at < at && shotAt(items, pose.at) === shot,
    );
    const [inner, outer] = last?.points ?? [];
    return inner === undefined || outer === undefined ? [] : [[inner, outer]];
  });
}

export interface PlaceToMark {
  /** Milliseconds. */
  readonly at: number;
  readonly words: string;
}

/** The last still frame before a command: so long before it, in milliseconds. */
const before = 40;

/** Still moments at which the platforms are not marked yet: before each command to fence and before each re-centre. The
 * moment after a re-centre is the one before the next command. */
export function placesToMark(items: readonly Item[]): readonly PlaceToMark[] {
  const places: PlaceToMark[] = [];
  let still = 0;
  let marked = false;
  for (const item of items) {
    if (item.kind === "platforms") marked = true;
    const recentre = item.kind === "stop" && [item.fields["for"]].flat().includes("re-centre");
    if (item.kind !== "phrase" && !recentre) continue;
    if (!marked)
      places.push({
        at: Math.max(still, item.at - before),
        words: recentre ? "before the re-centre" : `before phrase ${item.number ?? "?"}`,
      });
    still = item.until ?? item.at;
    marked = false;
  }
  return places;
}

/** The next one after a frame, or else the first of all. */
export function nextPlaceToMark(items: readonly Item[], at: number): PlaceToMark | undefined {
  const places = placesToMark(items);
  return places.find((place) => place.at > at + before) ?? places.find((place) => place.at < at - before);
}
