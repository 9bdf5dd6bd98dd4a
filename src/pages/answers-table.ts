// How did phrases go on after their first action? First action down the side, the answer along the top.

import type { AnswerCell, AnswerWord, Figures } from "../figures";
import { markup, type Markup } from "./markup";
import { noneYet, type Reader } from "./reader";

export function answersTable({ answers: { firsts, seconds, cells } }: Figures, reader: Reader): Markup {
  if (cells.length === 0) return markup`<p>No actions tagged: ${noneYet}.</p>`;
  const at = new Map(cells.map((cell) => [keyOf(cell.first, cell.second), cell]));
  return markup`<p class="key">Rows: the first action; columns: the second. A cell holds its phrases and, after a colon, how many were touches of ${reader.names.left} (L) and of ${reader.names.right} (R).</p>
<div class="wide-table" role="region" aria-label="First action and answer, table" tabindex="0"><table class="grid-table answers"><caption class="unseen">First action and answer, in phrases</caption><thead><tr><td></td>${seconds.map(
    (word) => markup`<th scope="col">${wordsOf(word)}</th>`,
  )}</tr></thead><tbody>${firsts.map(
    (first) =>
      markup`<tr><th scope="row">${wordsOf(first)}</th>${seconds.map(
        (second) => markup`<td>${content(at.get(keyOf(first, second)), reader)}</td>`,
      )}</tr>`,
  )}</tbody></table></div>`;
}

function content(cell: AnswerCell | undefined, { play }: Reader): Markup | undefined {
  if (cell === undefined) return undefined;
  const { phrases, counts, first, second } = cell;
  const key = `answer.${keyOf(first, second)}`;
  const title = `${wordsOf(first)}, then ${wordsOf(second)}`;
  const touches = [
    counts.left.length > 0 &&
      markup`${play({ key: `${key}.left`, title: `${title}: touch left`, entries: counts.left }, `${counts.left.length}\u00a0L`)}`,
    counts.right.length > 0 &&
      markup`${play({ key: `${key}.right`, title: `${title}: touch right`, entries: counts.right }, `${counts.right.length}\u00a0R`)}`,
  ].filter((one) => one !== false);
  return markup`<strong>${play({ key, title, entries: phrases }, phrases.length)}</strong>${touches.map(
    (one, index) => markup`${index === 0 ? ": " : " "}${one}`,
  )}`;
}

function wordsOf(word: AnswerWord | null): string {
  return word === null ? "no answer" : `${word.doer} ${word.group}`;
}

function keyOf(first: AnswerWord, second: AnswerWord | null): string {
  return `${first.doer} ${first.group}/${second === null ? "none" : `${second.doer} ${second.group}`}`;
}
