// The brief on a fencer as HTML, for the panel and as a file.

export { briefPlayer, readEvidence } from "./evidence";
export { briefFile } from "./file";
export { briefPage, briefPieces } from "./page";
export { planNotes } from "./plan";
