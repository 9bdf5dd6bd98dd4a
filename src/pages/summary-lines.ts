// What could be read aloud after the bout, at the top of the page.

import type { Figures } from "../figures";
import { markup, type Markup } from "./markup";
import type { Reader } from "./reader";

export function summaryLines({ summary }: Figures, { play }: Reader): Markup {
  return markup`<section class="summary"><h2>In short</h2><ol>${summary.map(
    ({ text, entries }, index) =>
      markup`<li>${play({ key: `summary.${index}`, title: withoutStop(text), entries, plain: true }, text)}</li>`,
  )}</ol></section>`;
}

/** While it plays, the sentence goes on: ": 1 of 4". */
function withoutStop(sentence: string): string {
  return sentence.replace(/\.$/, "");
}
