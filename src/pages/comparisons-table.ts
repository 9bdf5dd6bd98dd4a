// Is a difference more than chance would make? Every comparison that was tried, judged together, in plain words.

import type { Comparison, Comparisons, Figures } from "../figures";
import type { Play } from "./evidence";
import { markup, type Content, type Markup } from "./markup";
import { counted, decimal, probability } from "./numbers";
import { noneYet, type Reader } from "./reader";

/** The two sides of a comparison, whose phrases may lie in two files. */
export type Plays = (part: "first" | "second") => Play;

export function comparisonsSection({ comparisons }: Figures, { play }: Reader): Markup {
  return comparisonsTable(comparisons, () => play);
}

export function comparisonsTable(comparisons: Comparisons, plays: Plays): Markup {
  const { tried, list } = comparisons;
  if (tried === 0) return markup`<p>Comparisons: ${noneYet}.</p>`;
  return markup`<p class="answer">${verdict(comparisons)}</p>
<p class="key">Limits are those of one comparison by itself. The probability p is corrected for how many were tried (Holm); below 0.05 a difference counts as more than chance.</p>
<div class="columns"><table class="grid-table comparisons"><caption class="unseen">Every comparison tried</caption><thead><tr><th scope="col">compared</th><th scope="col">seen</th><th scope="col">difference and limits</th><th scope="col" class="number">p</th><th scope="col">in words</th></tr></thead><tbody>${list.map(
    (one) => line(one, plays),
  )}</tbody></table></div>`;
}

function verdict({ tried, list }: Comparisons): string {
  const passed = list.filter(({ passes }) => passes).length;
  const all = `${counted(tried, "comparison")} tried`;
  if (passed === 0) return `${all}; none shows more than chance would make.`;
  return `${all}; ${passed} ${passed === 1 ? "shows" : "show"} more than chance would make.`;
}

function line(one: Comparison, plays: Plays): Markup {
  const { question, words, adjusted, passes, key } = one;
  return markup`<tr${passes && markup` class="passes"`} data-comparison="${key}"><th scope="row">${question}</th><td>${seen(one, plays)}</td><td>${difference(one)}</td><td class="number">${chance(adjusted)}</td><td>${
    passes ? markup`<strong>${words}</strong>` : words
  }</td></tr>`;
}

/** Without the letter, which stands above the column. */
function chance(p: number): string {
  return probability(p).replace("p ", "").replace("= ", "");
}

function seen(one: Comparison, playsOf: Plays): Content {
  const plays = (part: "first" | "second", entries: readonly number[], label: string, words: number) =>
    playsOf(part)(
      { key: `comparison.${one.key}.${part}`, title: `${one.question}: ${label}`, entries },
      words,
    );
  switch (one.kind) {
    case "shares": {
      const { first, second } = one;
      return markup`${first.label} ${plays("first", first.entries, first.label, first.count)} of ${first.of}, ${second.label} ${plays("second", second.entries, second.label, second.count)} of ${second.of}`;
    }
    case "paired": {
      const { first, second, of } = one;
      return markup`${first.label} ${plays("first", first.entries, first.label, first.entries.length)}, ${second.label} ${plays("second", second.entries, second.label, second.entries.length)}, of ${of}`;
    }
    case "rates": {
      const { first, second } = one;
      return markup`${first.label} ${plays("first", first.entries, first.label, first.count)} in ${decimal(first.minutes, 1)} minutes, ${second.label} ${plays("second", second.entries, second.label, second.count)} in ${decimal(second.minutes, 1)}`;
    }
    case "order":
      return markup`${plays("first", one.seen.entries, one.question, one.seen.count)}, expected ${decimal(one.seen.expected, 1)}, of ${one.touches} touches`;
  }
}

function difference(one: Comparison): string {
  switch (one.kind) {
    case "shares":
    case "paired": {
      const { value, low, high } = one.difference;
      return `${points(value)} points (${points(low)} to ${points(high)})`;
    }
    case "rates": {
      const { value, low, high } = one.ratio;
      const limits = `${decimal(low, 2)} to ${high === null ? "no limit" : decimal(high, 2)}`;
      return `${value === null ? "" : decimal(value, 2)} times (${limits})`;
    }
    case "order":
      return `usual ${one.seen.usual.low} to ${one.seen.usual.high}`;
  }
}

/** Percentage points with their sign. */
function points(share: number): string {
  const text = decimal(share * 100, 0);
  return share > 0 && Number(text) !== 0 ? `+${text}` : text;
}
