// The brief on a fencer as HTML, for the panel and as a file.

export { readEvidence } from "./evidence";
export { briefFile } from "./file";
export { briefPage } from "./page";
