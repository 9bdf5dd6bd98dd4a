// Which rule editions there are, and which one a bout names.

import { extendEdition, type Edition } from "./edition";
import { fie2024 } from "./editions/fie-2024";
import { fie2026 } from "./editions/fie-2026";
import { wheelchair2026 } from "./editions/wheelchair-2026";

const wheelchair = extendEdition(fie2026, wheelchair2026);

/** The editions that come with Boutline, by the name a bout file writes in `rules`. */
export const editions: ReadonlyMap<string, Edition> = new Map(
  [wheelchair, fie2026, extendEdition(fie2026, fie2024)].map((edition) => [edition.id, edition]),
);

/** The edition of this name; undefined where there is none, which is a finding about the bout. */
export function editionNamed(
  name: string,
  known: ReadonlyMap<string, Edition> = editions,
): Edition | undefined {
  return known.get(name);
}

/** The edition a bout of an unknown edition is counted by, so that its score can be shown at all. */
export const fallbackEdition: Edition = wheelchair;

/** The edition that was in force on this day, `YYYY-MM-DD`, among those for seated fencing or the others; undefined
 * where none that Boutline knows is as old. */
export function editionOn(date: string, seated: boolean): Edition | undefined {
  let latest: Edition | undefined;
  for (const edition of editions.values())
    if (
      edition.seated.value === seated &&
      edition.from.value <= date &&
      (latest === undefined || latest.from.value < edition.from.value)
    )
      latest = edition;
  return latest;
}
