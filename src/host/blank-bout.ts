// The text of a new bout file: all that must be there, with a word on what to fill in.

import { entryText } from "../bout/edit";
import type { Format, Side, Weapon } from "../bout/words";

/** What is known of a fencer from other bouts. The category is not carried over: it is health data. */
export interface KnownFencer {
  readonly id?: string | undefined;
  readonly name: string;
  readonly club?: string | undefined;
  readonly hand?: Side | undefined;
}

export interface BlankBout {
  readonly title: string;
  readonly weapon: Weapon;
  readonly format: Format;
  readonly rules: string;
  /** Left out: to be written by hand. */
  readonly fencers?: Readonly<Record<Side, KnownFencer>> | undefined;
  /** Paths from the bout file's folder, the one that sets the clock first. */
  readonly recordings: readonly string[];
  /** Today, YYYY-MM-DD. */
  readonly today: string;
}

export function blankBoutText(blank: BlankBout): string {
  const { title, weapon, format, rules, fencers, recordings, today } = blank;
  const json = JSON.stringify;
  const files = recordings.map((file) => `{ "file": ${json(file)} }`);
  const list = files.length < 2 ? `[${files.join("")}]` : `[\n    ${files.join(",\n    ")}\n  ]`;
  return `// A bout file of Boutline. left and right are the referee's: left is the fencer on the referee's left.
{
  "boutline": 1,
  "bout": {
    "title": ${json(title)},
    "weapon": ${json(weapon)},
    "format": ${json(format)},
    "rules": ${json(rules)},
    // "opposite" where the main camera stands on the other side of the piste.
    "view": "referee"
  },
${fencers === undefined ? "  // Write their names here.\n" : ""}  "fencers": {
    "left": ${fencerText(fencers?.left ?? { name: "Left" })},
    "right": ${fencerText(fencers?.right ?? { name: "Right" })}
  },
  // The first recording sets the clock; another may have an "offset" in seconds.
  "recordings": ${list},
  "tagged": { "on": ${json(today)} },
  "log": [
  ]
}
`;
}

function fencerText({ id, name, club, hand }: KnownFencer): string {
  return entryText({
    ...(id === undefined ? {} : { id }),
    name,
    ...(club === undefined ? {} : { club }),
    ...(hand === undefined ? {} : { hand }),
  });
}

/** A name for the new file that none of `taken` has: the recording's own, numbered from 2 where it must be. */
export function freeName(recording: string, taken: ReadonlySet<string>): string {
  const stem = recording.replace(/\.[^.]*$/, "") || recording;
  for (let number = 1; ; number++) {
    const name = `${stem}${number === 1 ? "" : `-${number}`}.bout.json`;
    if (!taken.has(name)) return name;
  }
}
