// What a rule edition says, and how one is made of another. Its shape is `edition-schema.ts`, which only needs to be there
// where an edition is read from a file.

import { stopReasons, type StopReason, type Weapon } from "../bout/words";
import type { Edition, EditionChanges, FormatRules, Offence } from "./edition-schema";

export type { Edition, EditionChanges, FormatRules, GroupNumber, Offence, Origin } from "./edition-schema";

/** The whole edition that `changes` makes of the one it extends. */
export function extendEdition(base: Edition, changes: EditionChanges): Edition {
  const { formats: inFormats, groups: inGroups, offences = [], ...rest } = withoutUndefined(changes);
  const names = new Set(offences.map(({ name }) => name));
  const format = (name: keyof Edition["formats"]): FormatRules => ({
    ...base.formats[name],
    ...withoutUndefined(inFormats?.[name] ?? {}),
  });
  return {
    ...base,
    ...rest,
    formats: {
      pool: format("pool"),
      elimination: format("elimination"),
      veterans: format("veterans"),
      training: format("training"),
    },
    groups: { ...base.groups, ...withoutUndefined(inGroups ?? {}) },
    offences: [...base.offences.filter(({ name }) => !names.has(name)), ...offences],
  };
}

type Defined<T> = { [K in keyof T]: Exclude<T[K], undefined> };

function withoutUndefined<T extends object>(value: T): Defined<T> {
  return Object.fromEntries(Object.entries(value).filter(([, field]) => field !== undefined)) as Defined<T>;
}

/** The offence a card's `for` names, letter case aside. */
export function offenceNamed(edition: Edition, name: string | undefined): Offence | undefined {
  if (name === undefined) return undefined;
  return offencesByName(edition).get(name.trim().toLowerCase());
}

const byName = new WeakMap<Edition, ReadonlyMap<string, Offence>>();

function offencesByName(edition: Edition): ReadonlyMap<string, Offence> {
  let names = byName.get(edition);
  if (names === undefined) {
    names = new Map(edition.offences.map((offence) => [offence.name, offence]));
    byName.set(edition, names);
  }
  return names;
}

/** The offences there can be with this weapon. */
export function offencesFor(edition: Edition, weapon: Weapon): readonly Offence[] {
  return edition.offences.filter(({ weapons: at }) => at === undefined || at.includes(weapon));
}

/** Reasons for a stop that only a chair in a frame can give. */
export const seatedStops: readonly StopReason[] = [
  "re-centre",
  "distance",
  "apron lead",
  "balance",
  "loose chair",
  "lifting check",
];

/** The reasons for a stop there can be under this edition. */
export function stopReasonsFor(edition: Edition): readonly StopReason[] {
  return edition.seated.value ? stopReasons : stopReasons.filter((reason) => !seatedStops.includes(reason));
}
