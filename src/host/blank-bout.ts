// The text of a new bout file: all that must be there, with a word on what to fill in.

import type { Format, Weapon } from "../bout/words";

export interface BlankBout {
  readonly title: string;
  readonly weapon: Weapon;
  readonly format: Format;
  readonly rules: string;
  /** Paths from the bout file's folder, the one that sets the clock first. */
  readonly recordings: readonly string[];
  /** Today, YYYY-MM-DD. */
  readonly today: string;
}

export function blankBoutText({ title, weapon, format, rules, recordings, today }: BlankBout): string {
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
  // Write their names here.
  "fencers": {
    "left": { "name": "Left" },
    "right": { "name": "Right" }
  },
  // The first recording sets the clock; another may have an "offset" in seconds.
  "recordings": ${list},
  "tagged": { "on": ${json(today)} },
  "log": [
  ]
}
`;
}

/** A name for the new file that none of `taken` has: the recording's own, numbered from 2 where it must be. */
export function freeName(recording: string, taken: ReadonlySet<string>): string {
  const stem = recording.replace(/\.[^.]*$/, "") || recording;
  for (let number = 1; ; number++) {
    const name = `${stem}${number === 1 ? "" : `-${number}`}.bout.json`;
    if (!taken.has(name)) return name;
  }
}
