// What came of each family of actions, for each fencer: of the phrases in which one was used.

import type { Side } from "../bout/words";
import type { FamilyRow, Figures } from "../figures";
import { markup, type Markup } from "./markup";
import { netWords } from "./opened-table";
import { rateCell } from "./rate-cell";
import { noneYet, type Reader } from "./reader";

export function familiesTables({ families }: Figures, reader: Reader): Markup {
  const { left, right } = families;
  if (left.length + right.length === 0) return markup`<p>No actions tagged: ${noneYet}.</p>`;
  return markup`<p class="key">A phrase with two families counts in both. Net is touches for less touches against, for ten such phrases.</p>
<div class="pair families-pair">${table("left", left, reader)}${table("right", right, reader)}</div>`;
}

function table(side: Side, rows: readonly FamilyRow[], { names, play }: Reader): Markup {
  const name = names[side];
  return markup`<table class="grid-table families"><caption>${name}</caption><thead><tr><td></td><th scope="col">scored with it</th><th scope="col">was hit</th><th scope="col">net in 10</th></tr></thead><tbody>${
    rows.length === 0 && markup`<tr><th scope="row">any</th><td colspan="3">${noneYet}</td></tr>`
  }${rows.map(({ family, scored, outcomes, net, phrases }) => {
    const key = `${side}.family.${family}`;
    const all = { key: `${key}.all`, title: `phrases with ${family}, ${name}`, entries: phrases };
    return markup`<tr><th scope="row">${family}</th><td>${rateCell(play, scored, { key, title: `touch by ${family}, ${name}` }, all)}</td><td>${rateCell(
      play,
      outcomes.against,
      { key: `${key}.against`, title: `touch against in phrases with ${family}, ${name}` },
    )}</td><td>${netWords(net)}</td></tr>`;
  })}</tbody></table>`;
}
