// What the bouts on the shelf let one expect of a new one: who may fence, and with which weapon, format and rules. Only
// what they agree on is taken without asking. No VS Code in here.

import path from "node:path";
import { sides, type Format, type Weapon } from "../bout/words";
import { plainName, type BoutRow, type Person, personsOf } from "../shelf";
import type { KnownFencer } from "./blank-bout";
import { placeOf } from "./find-again";

export interface KnownPerson extends KnownFencer {
  readonly bouts: number;
  /** YYYY-MM-DD of the newest bout; empty where none says. */
  readonly last: string;
}

/** Those of the newest bouts first. */
export function peopleKnown(bouts: readonly BoutRow[]): readonly KnownPerson[] {
  return personsOf(bouts)
    .map(newestOf)
    .sort((one, other) => (one.last < other.last ? 1 : one.last > other.last ? -1 : 0));
}

/** As the newest bout has the person, under the name written most often. */
function newestOf({ key, id, names, bouts }: Person): KnownPerson {
  const newest = bouts.reduce((one, other) => ((other.date ?? "") > (one.date ?? "") ? other : one));
  const fencer = sides
    .map((side) => newest.fencers[side])
    .find((one) => (id === undefined ? `name ${one.name.trim()}` === key : one.id?.trim() === id.trim()));
  const name = names[0] ?? "";
  return { id, name, club: fencer?.club, hand: fencer?.hand, bouts: bouts.length, last: newest.date ?? "" };
}

/** Somebody known whose name is the one typed but for accents, case or order of words. */
export function knownAs(typed: string, people: readonly KnownPerson[]): KnownPerson | undefined {
  const name = plainName(typed);
  return name === "" ? undefined : people.find((one) => plainName(one.name) === name);
}

export interface LikelyFacts {
  readonly weapon: Weapon | undefined;
  readonly format: Format | undefined;
  readonly rules: string | undefined;
}

/** From the bouts in the same folder where there are any, else from those of the fencers. A fact is likely where all of
 * these bouts agree on it. */
export function likelyFacts(
  bouts: readonly BoutRow[],
  folder: string,
  fencers: readonly KnownFencer[],
): LikelyFacts {
  const beside = bouts.filter(({ file }) => path.dirname(file) === folder);
  const ids = new Set(fencers.flatMap(({ id }) => id ?? []));
  const theirs = bouts.filter((bout) =>
    sides.some((side) => {
      const { id } = bout.fencers[side];
      return id !== undefined && ids.has(id);
    }),
  );
  const basis = beside.length > 0 ? beside : theirs;
  return {
    weapon: agreed(basis.map(({ weapon }) => weapon)),
    format: agreed(basis.map(({ format }) => format)),
    rules: agreed(basis.map(({ rules }) => rules)),
  };
}

function agreed<T>(values: readonly T[]): T | undefined {
  const [first, ...others] = new Set(values);
  return others.length === 0 ? first : undefined;
}

/** Full paths of the recordings that bouts name. */
export function recordingsNamed(bouts: readonly BoutRow[]): ReadonlySet<string> {
  return new Set(bouts.flatMap((bout) => bout.recordings.map(({ file }) => placeOf(bout.file, file))));
}
