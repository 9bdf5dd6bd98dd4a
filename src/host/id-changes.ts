// What giving two persons the same id changes, and which ids are free. No VS Code in here.

import { sides, type Side } from "../bout/words";
import { plainName, type Person } from "../shelf";

/** Where a fencer would get another id. */
export interface IdChange {
  readonly boutFile: string;
  readonly side: Side;
  readonly name: string;
  readonly before: string | undefined;
}

/** In the order of the files, left first. */
export function idChanges(persons: readonly Person[], id: string): readonly IdChange[] {
  return persons
    .flatMap((person) =>
      person.bouts.flatMap(({ file: boutFile, fencers }) =>
        sides.flatMap((side) => {
          const { id: before, name } = fencers[side];
          const isPerson =
            person.id === undefined
              ? (before ?? "").trim() === "" && person.key === `name ${name.trim()}`
              : before?.trim() === person.id.trim();
          return isPerson && before !== id ? [{ boutFile, side, name, before }] : [];
        }),
      ),
    )
    .sort((one, other) =>
      one.boutFile === other.boutFile
        ? sides.indexOf(one.side) - sides.indexOf(other.side)
        : one.boutFile < other.boutFile
          ? -1
          : 1,
    );
}

/** The name in plain letters, numbered from 2 where it must be. */
export function freeId(name: string, taken: ReadonlySet<string>): string {
  const stem = plainName(name).replaceAll(" ", "-");
  for (let number = 1; ; number++) {
    const id = number === 1 ? stem : `${stem}-${number}`;
    if (!taken.has(id)) return id;
  }
}
