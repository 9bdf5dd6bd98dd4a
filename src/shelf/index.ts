// Many bout files seen as one collection: which there are, what each is about, and who may be whom.

export { findBoutFiles, type BoutFile, type FoundFiles, type LeftOut } from "./find";
export {
  keyOf as personKey,
  personsOf,
  plainName,
  likelySamePersons,
  type Person,
  type SamePersons,
} from "./persons";
export type { BoutRow, FencerOnShelf, RecordingOnShelf, ShelfRow, UnreadableRow } from "./row";
export { Shelf, type ShelfOptions } from "./shelf";
export { likelySameBouts, type SameBouts } from "./same-bouts";
