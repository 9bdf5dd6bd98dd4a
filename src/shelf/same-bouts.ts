// Which files may tell of one bout? A copy, or the work of two taggers: suggested, so that a bout is not counted twice
// unawares.

import path from "node:path";
import { sides } from "../bout/words";
import { plainName } from "./persons";
import type { BoutRow } from "./row";

export interface SameBouts {
  readonly bouts: readonly BoutRow[];
  readonly because:
    | "the files are equal"
    | "the same fencers in the same recording"
    | "the same fencers, day, event and round";
}

/** Groups of two files or more, each file in the first that fits. */
export function likelySameBouts(bouts: readonly BoutRow[]): readonly SameBouts[] {
  const taken = new Set<BoutRow>();
  const found: SameBouts[] = [];
  for (const { because, keyOf } of signs) {
    const groups = new Map<string, BoutRow[]>();
    for (const bout of bouts) {
      const key = keyOf(bout);
      if (key !== undefined) groups.set(key, [...(groups.get(key) ?? []), bout]);
    }
    for (const group of groups.values()) {
      if (group.length < 2 || group.every((bout) => taken.has(bout))) continue;
      found.push({ bouts: group, because });
      for (const bout of group) taken.add(bout);
    }
  }
  return found;
}

const signs: readonly {
  readonly because: SameBouts["because"];
  /** Equal for files of one bout; undefined where it can't tell. */
  readonly keyOf: (bout: BoutRow) => string | undefined;
}[] = [
  { because: "the files are equal", keyOf: ({ size, sum }) => `${size} ${sum}` },
  {
    because: "the same fencers in the same recording",
    keyOf: (bout) => {
      const [first] = bout.recordings;
      if (first === undefined) return undefined;
      return JSON.stringify([path.join(path.dirname(bout.file), first.file), bout.round, ...pairOf(bout)]);
    },
  },
  {
    because: "the same fencers, day, event and round",
    keyOf: (bout) => {
      const { date, event, round, weapon } = bout;
      if (date === undefined || event === undefined || round === undefined) return undefined;
      return JSON.stringify([date, plainName(event), plainName(round), weapon, ...pairOf(bout)]);
    },
  },
];

/** The two fencers, whichever side they are on: taggers may hold opposite views of left. */
function pairOf({ fencers }: BoutRow): readonly string[] {
  return sides.map((side) => plainName(fencers[side].name)).sort();
}
