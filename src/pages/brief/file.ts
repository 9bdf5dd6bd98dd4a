// The brief as one HTML file.

import type { Brief } from "../../figures/brief";
import { htmlFile, type Style } from "../html-file";
import { Markup, markup } from "../markup";
import { briefPage } from "./page";

export function briefFile(brief: Brief, style: Style): string {
  const title = markup`Brief on ${brief.fencer.name}${brief.against !== null && ` against ${brief.against.name}`}`;
  return htmlFile(title, style, new Markup(briefPage(brief, "file")));
}
