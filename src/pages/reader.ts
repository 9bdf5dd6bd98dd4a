// What every section of a page needs in order to speak to its reader.

import type { Ledger, Sided } from "../rules";
import type { EntryKeys } from "./entry-keys";
import type { Play } from "./evidence";

/** The panel of the editor plays what is behind a number; a file is read and printed on its own. */
export type Medium = "panel" | "file";

export interface Reader {
  readonly ledger: Ledger;
  /** The fencers' names; their sides where both have the same. */
  readonly names: Sided<string>;
  readonly keys: EntryKeys;
  readonly play: Play;
  readonly medium: Medium;
}

/** Said in place of a figure that has nothing to count. */
export const noneYet = "none yet";
