// Do two files tell of the same bout, and of the same fencers?

import type { Bout } from "../bout/read";
import { opponent, sides, type Side } from "../bout/words";

export type Relation = "same bout" | "two bouts";

/** The same bout: the same fencers on the same sides, and nothing of date, event, round, weapon or first recording that
 * contradicts it where both files say it. `why` is a sentence for the reader. */
export function relationOf(first: Bout, second: Bout): { readonly relation: Relation; readonly why: string } {
  const two = (why: string) => ({ relation: "two bouts" as const, why });
  if (!sides.every((side) => isSameFencer(first, side, second, side)))
    return two("the fencers are not the same on the same sides");
  for (const field of ["weapon", "date", "event", "round"] as const) {
    const [one, other] = [first.about[field], second.about[field]];
    if (one !== undefined && other !== undefined && one !== other)
      return two(`the same fencers, but another ${field}`);
  }
  const [one, other] = [filesOf(first), filesOf(second)];
  if (one.length > 0 && other.length > 0 && !one.some((file) => other.includes(file)))
    return two("the same fencers, but no recording in common");
  return {
    relation: "same bout",
    why: "the same fencers on the same sides, and nothing that contradicts it",
  };
}

/** By their ids where both have one, else by name. */
export function isSameFencer(first: Bout, side: Side, second: Bout, other: Side): boolean {
  const [one, two] = [first.fencers[side], second.fencers[other]];
  return one.id !== undefined && two.id !== undefined
    ? one.id === two.id
    : one.name.trim() === two.name.trim();
}

/** The side on which the fencer of the first bout fences in the second; null where not at all. */
export function sideIn(first: Bout, side: Side, second: Bout): Side | null {
  if (isSameFencer(first, side, second, side)) return side;
  return isSameFencer(first, side, second, opponent(side)) ? opponent(side) : null;
}

/** Milliseconds to add to a time of the first file for the same moment in the second, by a recording both have. */
export function clockShift(first: Bout, second: Bout): number {
  for (const { file, offset = 0 } of first.recordings) {
    const same = second.recordings.find((recording) => nameOf(recording.file) === nameOf(file));
    if (same !== undefined) return Math.round(((same.offset ?? 0) - offset) * 1000);
  }
  return 0;
}

function filesOf({ recordings }: Bout): readonly string[] {
  return recordings.map(({ file }) => nameOf(file));
}

/** The file's name without its folders: two taggers keep the same recording in different places. */
function nameOf(file: string): string {
  return file.slice(file.lastIndexOf("/") + 1).toLowerCase();
}
