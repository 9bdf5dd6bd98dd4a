// FIE Technical Rules, 2024-25, where they say something else than those of August 2026. Both texts were read in public
// copies and compared line by line.

import type { EditionChanges } from "../edition";

const edition = "FIE 2024-25";

export const fie2024: EditionChanges = {
  id: "fie-2024",
  title: "FIE, 2024-25",
  source: "FIE Technical Rules, 2024-25",
  extends: "fie-2026",
  from: {
    value: "2024-09-01",
    source: "FIE Technical Rules, 2024-25, title",
    unverified: "taken from the title; the day it came into force was not found",
  },
  offences: [
    {
      name: "leaving the piste",
      number: "1.1",
      group: 1,
      annuls: false,
      standing: true,
      source: `${edition} t.23.6`,
    },
    {
      name: "touch with the guard",
      number: "1.12",
      group: 2,
      annuls: true,
      weapons: ["sabre"],
      source: `${edition} t.96.3`,
      unverified: "its article t.96.3 says group 2, its table t.170 lists it in group 1",
    },
    { name: "insulting an official", group: 4, annuls: false, source: `${edition} t.109` },
  ],
  unwillingness: {
    steps: ["P-yellow", "P-red", "P-black"],
    seconds: 60,
    formats: ["elimination", "veterans"],
    neverWhenOneTouchDecides: true,
    source: `${edition} t.124`,
  },
};
