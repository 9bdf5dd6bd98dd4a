// Which bout does the viewer hold? Scenes come whole or as a splice of the version before; the entry "in hand" is the
// one the keys speak of at the frame on screen.

import type { Head, Item, Scene, Standing } from "../messages/scene";

export interface HeldScene {
  readonly version: number;
  readonly head: Head;
  readonly items: readonly Item[];
}

/** The scene after a message; undefined where it builds on a version that is not held, so that all must be asked for. */
export function nextScene(held: HeldScene | undefined, scene: Scene): HeldScene | undefined {
  const { version, base, head, splice } = scene;
  if (base === null) return { version, head, items: splice.add };
  if (held?.version !== base || splice.start + splice.remove > held.items.length) return undefined;
  return { version, head, items: held.items.toSpliced(splice.start, splice.remove, ...splice.add) };
}

/** The last entry in the log that is not later than `at`, as the tagging keys take it. */
export function itemInHand(items: readonly Item[], at: number): Item | undefined {
  return items.findLast((item) => item.at <= at);
}

/** The last phrase begun at or before `at`: the one whose actions, lamps and touch the keys write. */
export function phraseInHand(items: readonly Item[], at: number): Item | undefined {
  return items.findLast((item) => item.kind === "phrase" && item.at <= at);
}

/** Where the entry before or after the playhead begins; undefined at either end. */
export function neighbour(items: readonly Item[], at: number, direction: -1 | 1): number | undefined {
  let best: number | undefined;
  for (const item of items) {
    if (direction < 0 ? item.at >= at : item.at <= at) continue;
    if (best === undefined || (direction < 0 ? item.at > best : item.at < best)) best = item.at;
  }
  return best;
}

/** The next phrase still waiting for its call or its halt after the playhead, or else the first of all. */
export function nextWaiting(items: readonly Item[], at: number): Item | undefined {
  const waiting = items.filter((item) => item.state === "waiting" || item.state === "open");
  return waiting.find((item) => item.at > at) ?? waiting[0];
}

/** The state of the bout at the playhead: after the entry in hand. */
export function standingAt(scene: HeldScene, at: number): Standing {
  return itemInHand(scene.items, at)?.after ?? scene.head.before;
}

/** Finds an entry again after the log has changed: same kind and time, else the same place. */
export function sameItem(
  items: readonly Item[],
  before: Pick<Item, "index" | "kind" | "at">,
): Item | undefined {
  const alike = items.filter((item) => item.kind === before.kind && item.at === before.at);
  return (
    alike.find((item) => item.index === before.index) ??
    alike[0] ??
    items.find((item) => item.index === before.index && item.kind === before.kind)
  );
}
