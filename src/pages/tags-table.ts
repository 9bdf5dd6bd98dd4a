// The coach's own words: what they mean, how often they were used, and whose touches those phrases were.

import type { Figures } from "../figures";
import { markup, type Markup } from "./markup";
import { rateCell } from "./rate-cell";
import { noneYet, type Reader } from "./reader";

export function tagsTable({ tags: { used, rows } }: Figures, { names, play }: Reader): Markup {
  if (rows.length === 0)
    return markup`<p>Words of your own in phrases: ${noneYet}. Give a phrase "tags", and say what they mean in a file tags.json beside the bout file.</p>`;
  return markup`<div class="line">Phrases with a word of your own: ${rateCell(play, used, { key: "tags", title: "phrases with a word of your own" })}</div>
<table class="grid-table tags"><caption class="unseen">Your own words</caption><thead><tr><th scope="col">word</th><th scope="col">what it means</th><th scope="col">touch ${names.left}</th><th scope="col">touch ${names.right}</th></tr></thead><tbody>${rows.map(
    ({ tag, definition, phrases, touches }) => {
      const key = `tag.${tag}`;
      const cell = (side: "left" | "right") =>
        markup`<td>${rateCell(play, touches[side], { key: `${key}.${side}`, title: `${tag}: touch ${names[side]}` })}</td>`;
      return markup`<tr><th scope="row">${tag} <span class="note">${play({ key, title: `phrases with ${tag}`, entries: phrases }, phrases.length)} ${phrases.length === 1 ? "phrase" : "phrases"}</span></th><td>${definition ?? markup`<span class="none">not told in tags.json</span>`}</td>${cell("left")}${cell("right")}</tr>`;
    },
  )}</tbody></table>`;
}
