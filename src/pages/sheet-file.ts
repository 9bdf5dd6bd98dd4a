// The study sheet as one HTML file.

import type { StudySheet } from "../figures";
import type { Ledger } from "../rules";
import { formatDate } from "./dates";
import { htmlFile, type Style } from "./html-file";
import { Markup, markup } from "./markup";
import { meaningsSection } from "./meanings-section";
import { sheetPage, type PageOptions } from "./sheet";

export function sheetFile(
  study: StudySheet,
  ledger: Ledger,
  style: Style,
  figures?: PageOptions["figures"],
): string {
  const { about, fencers } = ledger.bout;
  const title = about.title?.trim() || `${fencers.left.name} and ${fencers.right.name}`;
  const day = formatDate(about.date);
  const page = sheetPage(study, ledger, { medium: "file", ...(figures === undefined ? {} : { figures }) });
  return htmlFile(
    markup`${title}${day !== undefined && `, ${day}`}: study sheet`,
    style,
    markup`${new Markup(page)}
${meaningsSection()}`,
  );
}
