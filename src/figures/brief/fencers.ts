// Who fences in these bouts, and which of them are a given fencer's? A fencer is an `id`; names are only shown.

import { suggestion } from "../../bout/explain";
import { failure, success, type Result } from "../../bout/result";
import type { Format, Side, Weapon } from "../../bout/words";
import { opponent, sides } from "../../bout/words";
import type { Ledger } from "../../rules";
import { countedPhrases, type CountedPhrase } from "../phrases";
import { relationOf } from "../relation";

/** A bout file that was read and counted. `file` names it in every answer; it is not opened. */
export interface BoutRead {
  readonly file: string;
  readonly ledger: Ledger;
}

/** What the files say of one fencer; several values where they differ. */
export interface Person {
  readonly id: string;
  /** The name most files give. */
  readonly name: string;
  readonly names: readonly string[];
  readonly clubs: readonly string[];
  readonly hands: readonly ("left" | "right")[];
  readonly categories: readonly string[];
  readonly bouts: number;
}

/** A bout as one of its fencers sees it. */
export interface OwnBout {
  readonly file: string;
  readonly ledger: Ledger;
  readonly side: Side;
  readonly opponent: Opponent;
  readonly date: string | null;
  readonly weapon: Weapon;
  readonly format: Format;
  readonly phrases: readonly CountedPhrase[];
}
export interface Opponent {
  /** The id; without one the name, marked by a leading "?". */
  readonly key: string;
  readonly name: string;
  readonly hand: "left" | "right" | null;
}

/** Everybody with an id, most bouts first. */
export function peopleIn(bouts: readonly BoutRead[]): readonly Person[] {
  const ids = new Set(
    bouts.flatMap(({ ledger }) => sides.map((side) => ledger.bout.fencers[side].id)).filter(isText),
  );
  return [...ids]
    .map((id) => personOf(bouts, id))
    .sort((one, other) => other.bouts - one.bouts || (one.name < other.name ? -1 : 1));
}

/** The person with this id. The problem is a sentence that names the nearest id and lists those there are. */
export function personNamed(bouts: readonly BoutRead[], id: string): Result<Person, string> {
  const people = peopleIn(bouts);
  const found = people.find((person) => person.id === id);
  if (found !== undefined) return success(found);
  if (people.length === 0) return failure(`no fencer in these bouts has an id, so none is "${id}"`);
  const byName = people.find(({ names }) => names.some((name) => plainly(name) === plainly(id)));
  const ids = people.map((person) => person.id);
  const near = suggestion(id, ids);
  const nearest =
    byName !== undefined
      ? `; ${byName.name} is "${byName.id}"`
      : near.startsWith("the nearest")
        ? `; ${near}`
        : "";
  const most = 30;
  const listed = people.slice(0, most).map((person) => `${person.id} (${person.name})`);
  const more = people.length > most ? `, and ${people.length - most} more` : "";
  return failure(`no fencer here has the id "${id}"${nearest}. Here are ${listed.join(", ")}${more}`);
}

/** Without accents and case. */
function plainly(text: string): string {
  return text.normalize("NFD").replace(/\p{M}/gu, "").toLowerCase().trim();
}

/** The fencer's bouts, oldest first, undated ones last; of two files of one bout the first, the others left out. */
export function boutsOf(
  bouts: readonly BoutRead[],
  id: string,
): { readonly own: readonly OwnBout[]; readonly leftOut: readonly LeftOutBout[] } {
  const own: OwnBout[] = [];
  const leftOut: LeftOutBout[] = [];
  for (const { file, ledger } of bouts) {
    const { fencers, about } = ledger.bout;
    const found = sides.filter((side) => fencers[side].id === id);
    const [side] = found;
    if (side === undefined) continue;
    if (found.length > 1) {
      leftOut.push({ file, why: `both fencers have the id "${id}"` });
      continue;
    }
    const same = own.find((other) => isSameBout(other.ledger, ledger));
    if (same !== undefined) {
      leftOut.push({ file, why: `tells of the same bout as ${same.file}` });
      continue;
    }
    const other = fencers[opponent(side)];
    own.push({
      file,
      ledger,
      side,
      opponent: {
        key: other.id ?? `?${plainly(other.name)}`,
        name: other.name.trim() || "no name",
        hand: other.hand ?? null,
      },
      date: about.date ?? null,
      weapon: about.weapon,
      format: about.format,
      phrases: countedPhrases(ledger),
    });
  }
  own.sort((one, two) => compare(one.date ?? "9999", two.date ?? "9999") || compare(one.file, two.file));
  return { own, leftOut };
}

export interface LeftOutBout {
  readonly file: string;
  /** In words that follow the file's name. */
  readonly why: string;
}

/** Two files are taken for one bout only where something beyond the fencers says so: a recording or a day and a round
 * in common. */
function isSameBout(first: Ledger, second: Ledger): boolean {
  const [one, other] = [first.bout, second.bout];
  if (relationOf(one, other).relation !== "same bout") return false;
  if (one.recordings.length > 0 && other.recordings.length > 0) return true;
  const { date, round, event } = one.about;
  const said = date !== undefined && round !== undefined;
  return said && date === other.about.date && round === other.about.round && event === other.about.event;
}

function personOf(bouts: readonly BoutRead[], id: string): Person {
  const names = new Map<string, number>();
  const clubs = new Set<string>();
  const hands = new Set<"left" | "right">();
  const categories = new Set<string>();
  let count = 0;
  for (const { ledger } of bouts)
    for (const side of sides) {
      const fencer = ledger.bout.fencers[side];
      if (fencer.id !== id) continue;
      count++;
      const name = fencer.name.trim() || id;
      names.set(name, (names.get(name) ?? 0) + 1);
      if (isText(fencer.club)) clubs.add(fencer.club);
      if (fencer.hand !== undefined) hands.add(fencer.hand);
      if (isText(fencer.category)) categories.add(fencer.category);
    }
  const ordered = [...names].sort((one, other) => other[1] - one[1]).map(([name]) => name);
  return {
    id,
    name: ordered[0] ?? id,
    names: ordered,
    clubs: [...clubs],
    hands: [...hands],
    categories: [...categories],
    bouts: count,
  };
}

function isText(text: string | undefined): text is string {
  return text !== undefined && text !== "";
}

function compare(one: string, other: string): number {
  return one < other ? -1 : one > other ? 1 : 0;
}
