// What the figures look like on a page: the study sheet of a bout as HTML and SVG, and the stretches of the recording
// behind a figure. Nothing here draws by itself or knows where a page is shown.

import { figuresOf, sheetOf, type TagDefinitions } from "../figures";
import type { Study } from "../rules";
import type { SectionName } from "./section";
import { sheetPage } from "./sheet";
import type { Style } from "./html-file";
import { sheetFile } from "./sheet-file";

export { againstPage, apartPage } from "./against";
export { chartFiles, type ChartFile } from "./chart-files";
export { meaningsPage } from "./meanings";
export { stretchesOf, type Stretch } from "./evidence";
export { isSectionName, openAtFirst, sectionTitles, type SectionName } from "./section";
export { sheetFile };
export type { Style };
export { sheetPage, unreadablePage, type PageOptions } from "./sheet";

/** The study sheet of a bout that was read and counted, for a panel. */
export function studyPage(
  { ledger, findings }: Study,
  open?: ReadonlySet<SectionName>,
  definitions?: TagDefinitions,
): string {
  return sheetPage(sheetOf(ledger, findings), ledger, {
    figures: figuresOf(ledger, definitions),
    ...(open === undefined ? {} : { open }),
  });
}

/** The same as one HTML file. */
export function studyFile({ ledger, findings }: Study, style: Style, definitions?: TagDefinitions): string {
  return sheetFile(sheetOf(ledger, findings), ledger, style, figuresOf(ledger, definitions));
}
