// A table as the fencers sit: the left fencer's numbers on the left, the right one's on the right, what they count
// between them.

import type { Side } from "../bout/words";
import type { Sided } from "../rules";
import { markup, type Content, type Markup } from "./markup";
import type { Reader } from "./reader";

export function mirroredTable(names: Sided<string>, caption: string, groups: Content): Markup {
  return markup`<table class="sides"><caption class="unseen">${caption}</caption><thead><tr>${heading("left", names)}<td></td>${heading("right", names)}</tr></thead>${groups}</table>`;
}

function heading(side: Side, names: Sided<string>): Markup {
  const name = names[side];
  return markup`<th scope="col" class="${side}"><span class="fencer">${name}</span>${name !== side && markup` <span class="side">${side}</span>`}</th>`;
}

/** Rows under a heading of their own; nothing where there are none. `screenOnly`: paper has the same elsewhere. */
export function group(
  title: string,
  rows: readonly Content[],
  note?: string,
  screenOnly = false,
): Markup | undefined {
  const filled = rows.filter((row) => row !== undefined && row !== false);
  if (filled.length === 0) return undefined;
  return markup`<tbody${screenOnly && markup` class="screen"`}><tr class="group"><th colspan="3" scope="rowgroup">${title}${
    note !== undefined && markup` <span class="note">${note}</span>`
  }</th></tr>${filled}</tbody>`;
}

export function row(title: string, cell: (side: Side) => Content, screenOnly = false): Markup {
  return markup`<tr${screenOnly && markup` class="screen"`}><td class="left">${cell("left")}</td><th scope="row">${title}</th><td class="right">${cell("right")}</td></tr>`;
}

/** A row of plain counts, each of which plays its entries. */
export function countRow(
  { names, play }: Reader,
  key: string,
  title: string,
  count: (side: Side) => number | string,
  entries?: (side: Side) => readonly number[] | undefined,
): Markup {
  return row(title, (side) =>
    play({ key: `${side}.${key}`, title: `${title}, ${names[side]}`, entries: entries?.(side) }, count(side)),
  );
}
