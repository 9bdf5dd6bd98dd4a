// A section of the page: its heading, the way to what its figures mean, and its content. In the panel a section can be
// folded away; what is folded is not worked out.

import { markup, type Markup } from "./markup";
import type { Medium } from "./reader";

/** In the order of the page. */
export const sectionNames = [
  "score",
  "phrases",
  "opened",
  "touches",
  "families",
  "answers",
  "lamps",
  "reviews",
  "flow",
  "comparisons",
  "tags",
  "drift",
  "findings",
] as const;
export type SectionName = (typeof sectionNames)[number];

export function isSectionName(name: string): name is SectionName {
  return (sectionNames as readonly string[]).includes(name);
}

/** Open in a panel until the reader says otherwise: what a coach asks first, and what is short. */
export const openAtFirst: ReadonlySet<SectionName> = new Set<SectionName>([
  "score",
  "opened",
  "touches",
  "lamps",
  "reviews",
  "drift",
  "findings",
]);

export const sectionTitles: Readonly<Record<SectionName, string>> = {
  score: "How the score grew",
  phrases: "The phrases in order",
  opened: "Who committed first",
  touches: "What each fencer did",
  families: "What came of each family of actions",
  answers: "First action and answer",
  lamps: "Both lamps",
  reviews: "Reviews and cards",
  flow: "Flow of the bout",
  comparisons: "More than chance?",
  tags: "Your own words",
  drift: "Drift of the platforms",
  findings: "Findings",
};

/** `content` is made only where the section is open. */
export function section(name: SectionName, medium: Medium, open: boolean, content: () => Markup): Markup {
  const title = sectionTitles[name];
  if (medium === "file")
    return markup`<section class="part" id="${name}"><h2>${title} <a class="meaning" href="#${meaningId(name)}" aria-label="what this means: ${title}">what this means</a></h2>
${content()}</section>`;
  return markup`<section class="part"><details class="fold" data-section="${name}" data-key="section.${name}"${open && markup` open=""`}><summary><h2>${title}</h2></summary>
${open && markup`<p class="means"><button type="button" class="meaning" data-key="meaning.${name}" data-meaning="${name}" aria-label="what this means: ${title}">what this means</button></p>${content()}`}</details></section>`;
}

export function meaningId(name: SectionName): string {
  return `meaning-${name}`;
}
