// Who committed first, and how did it end? One column for each way a phrase was opened, one row for each way it ended.

import type { Side } from "../bout/words";
import {
  outcomeDefinitions,
  type Endings,
  type Figures,
  type Net,
  type OpenedBy,
  type Outcome,
} from "../figures";
import { intervalBar } from "./interval-bar";
import { markup, type Markup } from "./markup";
import { decimal } from "./numbers";
import { rateCell } from "./rate-cell";
import type { Reader } from "./reader";

interface Column {
  readonly key: string;
  readonly title: string;
  /** As the left fencer sees it. */
  readonly endings: Endings;
  /** Whose net is told: the one who opened. */
  readonly net: Side;
}

export function openedTable({ opened }: Figures, reader: Reader): Markup {
  const columns = columnsOf(opened, reader);
  const rows = outcomeDefinitions.filter(
    ({ outcome }) =>
      !seldom.has(outcome) || columns.some(({ endings }) => endings.outcomes[outcome].count > 0),
  );
  return markup`<p class="key">Each phrase stands in one column, by its first action that can score, and in one row.</p>
<div class="wide-table" role="region" aria-label="Who committed first, table" tabindex="0"><table class="grid-table opened"><caption class="unseen">How phrases ended, by who opened them</caption><thead><tr><td></td>${columns.map(
    ({ key, title, endings }) =>
      markup`<th scope="col">${title} <span class="note">${phrases(endings, key, title, reader)}</span></th>`,
  )}</tr></thead><tbody>${rows.map(
    ({ outcome, title }) =>
      markup`<tr><th scope="row">${named(outcome, title, reader)}</th>${columns.map(
        (column) => markup`<td>${cell(column, outcome, title, reader)}</td>`,
      )}</tr>`,
  )}<tr class="total"><th scope="row">net touches in 10 phrases</th>${columns.map(
    (column) => markup`<td>${netCell(column, opened, reader)}</td>`,
  )}</tr></tbody></table></div>`;
}

/** Told only where they occur. */
const seldom: ReadonlySet<Outcome> = new Set<Outcome>(["each", "not given", "not told", "not called"]);

function columnsOf({ left }: Figures["opened"], { names }: Reader): readonly Column[] {
  const column = (by: OpenedBy, title: string, net: Side): Column => ({
    key: `opened.${by === "own" ? "left" : by === "opponent" ? "right" : by}`,
    title,
    endings: left[by],
    net,
  });
  return [
    column("own", `${names.left} opened`, "left"),
    column("opponent", `${names.right} opened`, "right"),
    column("both", "both opened", "left"),
    column("nobody", "nobody opened", "left"),
    column("untagged", "no actions tagged", "left"),
  ].filter(({ key, endings }) => endings.phrases.length > 0 || !/nobody|untagged/.test(key));
}

function phrases({ phrases }: Endings, key: string, title: string, { play }: Reader): Markup {
  return markup`${play({ key, title: `phrases, ${title}`, entries: phrases }, phrases.length)} ${phrases.length === 1 ? "phrase" : "phrases"}`;
}

function named(outcome: Outcome, title: string, { names }: Reader): string {
  if (outcome === "for") return `touch ${names.left}`;
  if (outcome === "against") return `touch ${names.right}`;
  return title;
}

function cell({ key, title, endings }: Column, outcome: Outcome, ending: string, reader: Reader): Markup {
  const rate = endings.outcomes[outcome];
  if (rate.of === 0) return none;
  return rateCell(reader.play, rate, {
    key: `${key}.${outcome}`,
    title: `${title}: ${named(outcome, ending, reader)}`,
  });
}

const none = markup`<span class="none">none yet</span>`;

/** The opener's touches less those against, for ten phrases. */
function netCell({ endings, key, net: side }: Column, opened: Figures["opened"], { names }: Reader): Markup {
  const seen = side === "left" ? endings.net : opened.right.own.net;
  const whose = /both|nobody|untagged/.test(key) ? `for ${names.left}` : `for ${names[side]}`;
  return netWords(seen, whose);
}

export function netWords({ value, low, high, of }: Net, whose = ""): Markup {
  if (value === null || low === null || high === null) return none;
  return markup`<div class="rate"><span class="counts">${whose === "" ? `of ${of}` : whose}</span> <span class="value">${signed(value)}</span> ${intervalBar({ value, low, high }, [-10, 10], [0])} <span class="limits">${signed(low)} to ${signed(high)}</span></div>`;
}

function signed(value: number): string {
  const text = decimal(value, 1);
  return value > 0 && Number(text) !== 0 ? `+${text}` : text;
}
