// Who fences in these bouts? Joined by id, and without one by the name as written. Who may be the same person under
// another id or spelling is suggested, never decided.

import { distance } from "fastest-levenshtein";
import { sides } from "../bout/words";
import type { BoutRow, FencerOnShelf } from "./row";

export interface Person {
  /** The same for the same person of any two bouts: from the id, or else from the name as written. */
  readonly key: string;
  readonly id: string | undefined;
  /** As written, the one written most often first. */
  readonly names: readonly string[];
  readonly bouts: readonly BoutRow[];
}

export interface SamePersons {
  readonly persons: readonly [Person, Person];
  readonly because: "the same name but for accents, case or order" | "nearly the same name";
}

export function keyOf({ id, name }: Pick<FencerOnShelf, "id" | "name">): string {
  return id === undefined || id.trim() === "" ? `name ${name.trim()}` : `id ${id.trim()}`;
}

/** In the order of their names. */
export function personsOf(bouts: readonly BoutRow[]): readonly Person[] {
  const found = new Map<string, Gathered>();
  for (const bout of bouts)
    for (const side of sides) {
      const fencer = bout.fencers[side];
      const key = keyOf(fencer);
      const person: Gathered = found.get(key) ?? { id: fencer.id, names: new Map(), bouts: new Set() };
      found.set(key, person);
      person.names.set(fencer.name, (person.names.get(fencer.name) ?? 0) + 1);
      person.bouts.add(bout);
    }
  return [...found]
    .map(([key, { id, names, bouts: all }]) => ({
      key,
      id,
      names: [...names].sort(([, one], [, other]) => other - one).map(([name]) => name),
      bouts: [...all],
    }))
    .sort((one, other) => (one.names[0] ?? "").localeCompare(other.names[0] ?? "", "en"));
}

interface Gathered {
  readonly id: string | undefined;
  /** How often each is written. */
  readonly names: Map<string, number>;
  readonly bouts: Set<BoutRow>;
}

/** Pairs whose names are equal but for accents, case and order of words, or differ by one letter (two from ten letters on).
 * Two who have fenced each other are two persons. */
export function likelySamePersons(persons: readonly Person[]): readonly SamePersons[] {
  const spellings: Spelling[] = persons.flatMap((person) =>
    [...new Set(person.names.map(plainName))].filter((name) => name !== "").map((name) => ({ name, person })),
  );
  const found = new Map<string, SamePersons>();
  for (const [one, other] of nearPairs(spellings)) {
    if (one.person === other.person || haveMet(one.person, other.person)) continue;
    const key = JSON.stringify([one.person.key, other.person.key].sort());
    const same = one.name === other.name;
    if (!same && found.has(key)) continue;
    found.set(key, {
      persons: [one.person, other.person],
      because: same ? "the same name but for accents, case or order" : "nearly the same name",
    });
  }
  return [...found.values()];
}

/** Without accents and case, the words in alphabetical order. */
export function plainName(name: string): string {
  return name
    .normalize("NFKD")
    .replace(/\p{M}/gu, "")
    .toLowerCase()
    .replaceAll("ø", "o")
    .replaceAll("ł", "l")
    .replaceAll("đ", "d")
    .replaceAll("ß", "ss")
    .replaceAll("æ", "ae")
    .replaceAll("œ", "oe")
    .split(/[^\p{L}\p{N}]+/u)
    .filter((word) => word !== "")
    .sort()
    .join(" ");
}

interface Spelling {
  readonly name: string;
  readonly person: Person;
}

/** Letters that may differ in a name of this length. */
function leeway(length: number): number {
  return length >= 10 ? 2 : length >= 5 ? 1 : 0;
}
const mostLeeway = 2;

/** All pairs within the leeway, without comparing each with each: cut in three pieces, a name that differs by two letters
 * still has one piece unchanged, at most two places away. */
function* nearPairs(spellings: readonly Spelling[]): Generator<[Spelling, Spelling]> {
  const pieces = new Map<string, Spelling[]>();
  for (const longer of [...spellings].sort((one, other) => one.name.length - other.name.length)) {
    const { name } = longer;
    const met = new Set<Spelling>();
    for (let length = Math.max(1, name.length - mostLeeway); length <= name.length; length++)
      for (const [index, { from, to }] of cuts(length).entries())
        for (let at = Math.max(0, from - mostLeeway); at <= from + mostLeeway; at++)
          for (const shorter of pieces.get(pieceKey(length, index, name.slice(at, at + to - from))) ?? [])
            met.add(shorter);
    for (const shorter of met)
      if (distance(shorter.name, name) <= leeway(shorter.name.length)) yield [shorter, longer];
    for (const [index, { from, to }] of cuts(name.length).entries()) {
      const key = pieceKey(name.length, index, name.slice(from, to));
      const there = pieces.get(key);
      if (there === undefined) pieces.set(key, [longer]);
      else there.push(longer);
    }
  }
}

function cuts(length: number): readonly { readonly from: number; readonly to: number }[] {
  const at = (third: number) => Math.floor((length * third) / 3);
  return [0, 1, 2].map((third) => ({ from: at(third), to: at(third + 1) }));
}

function pieceKey(length: number, index: number, piece: string): string {
  return `${length} ${index} ${piece}`;
}

function haveMet(one: Person, other: Person): boolean {
  return one.bouts.some((bout) => {
    const keys = sides.map((side) => keyOf(bout.fencers[side]));
    return keys.includes(one.key) && keys.includes(other.key);
  });
}
