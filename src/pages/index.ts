// What the figures look like on a page: the study sheet of a bout as HTML and SVG, and the stretches of the recording
// behind a figure. Nothing here draws by itself or knows where a page is shown.

import { sheetOf } from "../figures";
import type { Study } from "../rules";
import { sheetPage } from "./sheet";

export { stretchesOf, type Stretch } from "./evidence";
export { sheetPage, unreadablePage } from "./sheet";

/** The study sheet of a bout that was read and counted. */
export function studyPage({ ledger, findings }: Study): string {
  return sheetPage(sheetOf(ledger, findings), ledger);
}
