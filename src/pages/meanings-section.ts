// What the figures mean, at the end of a sheet that stands on its own.

import { meaningOfLimits, meanings } from "./meanings";
import { markup, type Markup } from "./markup";
import { meaningId, sectionNames, sectionTitles, type SectionName } from "./section";

export function meaningsSection(): Markup {
  return markup`<section class="meanings" id="meanings"><h2>What the figures mean</h2>${meaningOfLimits.map(
    (one) => markup`<p>${one}</p>`,
  )}${sectionNames.map(meaning)}</section>`;
}

function meaning(name: SectionName): Markup {
  const { means, formula, source, doubt } = meanings[name];
  const term = (title: string, texts: readonly string[]) =>
    markup`<dt>${title}</dt>${texts.map((one) => markup`<dd>${one}</dd>`)}`;
  return markup`<section id="${meaningId(name)}"><h3>${sectionTitles[name]}</h3>${means.map(
    (one) => markup`<p>${one}</p>`,
  )}<dl>${term("How it is worked out", formula)}${term("Where it comes from", source)}${term("When not to believe it", doubt)}</dl><p><a href="#${name}" aria-label="back to the figures: ${sectionTitles[name]}">back to the figures</a></p></section>`;
}
