// Both valid lamps lit: to whom was the touch given? The plainest figure of priority; at épée the doubles.

import type { BothLamps, BothLampsRow } from "../figures";
import { markup, type Markup } from "./markup";
import { rateCell } from "./rate-cell";
import { noneYet, type Reader } from "./reader";

export function bothLampsTable(
  { share, rows, toOpener, toEitherOpener, doubles }: BothLamps,
  reader: Reader,
): Markup {
  const { names, play } = reader;
  if (share.of === 0) return markup`<p>No lamps recorded: ${noneYet}.</p>`;
  const line = (title: string, rate: typeof share, key: string) =>
    markup`<tr><th scope="row">${title}</th><td>${rate.of === 0 ? noneYet : rateCell(play, rate, { key: `lamps.${key}`, title })}</td></tr>`;
  const double = rows.some(({ both }) => both.count > 0) || doubles !== null;
  return markup`<table class="plain"><caption class="unseen">Both lamps in numbers</caption><tbody>${[
    line("both lamps, of the phrases with lamps recorded", share, "share"),
    line(`given to ${names.left}, who opened`, toOpener.left, "opener.left"),
    line(`given to ${names.right}, who opened`, toOpener.right, "opener.right"),
    line("given to the one who opened", toEitherOpener, "opener"),
    doubles !== null && line("touch for both, of all phrases", doubles, "doubles"),
  ]}</tbody></table>${
    rows.length > 0 &&
    markup`<table class="grid-table lamps"><caption>Phrases with both lamps, by who opened</caption><thead><tr><td></td><th scope="col">touch ${names.left}</th><th scope="col">touch ${names.right}</th>${double && markup`<th scope="col">a touch each</th>`}<th scope="col">nothing</th></tr></thead><tbody>${rows.map(
      (row) => opener(row, double, reader),
    )}</tbody></table>`
  }`;
}

function opener(row: BothLampsRow, double: boolean, { names, play }: Reader): Markup {
  const who = openers(row.opener, names);
  const key = `bothLamps.${row.opener}`;
  const cell = (field: "left" | "right" | "both" | "nothing", words: string) =>
    markup`<td>${rateCell(play, row[field], { key: `${key}.${field}`, title: `both lamps, ${who}: ${words}` })}</td>`;
  return markup`<tr><th scope="row">${who}</th>${cell("left", `touch ${names.left}`)}${cell("right", `touch ${names.right}`)}${double && cell("both", "a touch each")}${cell("nothing", "nothing")}</tr>`;
}

function openers(opener: BothLampsRow["opener"], names: Reader["names"]): string {
  switch (opener) {
    case "left":
    case "right":
      return `${names[opener]} opened`;
    case "both":
      return "both opened";
    case "nobody":
      return "nobody opened";
    case "untagged":
      return "no actions tagged";
  }
}
