// The brief as one HTML file.

import { shownPlan, type Brief, type ShownPlan } from "../../figures/brief";
import { htmlFile, type Style } from "../html-file";
import { Markup, markup } from "../markup";
import { briefPage } from "./page";

/** Without a plan what the brief offers to plan from is shown. */
export function briefFile(brief: Brief, plan: ShownPlan | undefined, style: Style): string {
  const title = markup`Brief on ${brief.fencer.name}${brief.against !== null && ` against ${brief.against.name}`}`;
  return htmlFile(
    title,
    style,
    new Markup(briefPage(brief, plan ?? shownPlan(brief, undefined, () => undefined))),
  );
}
