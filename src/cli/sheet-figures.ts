// The figures of who committed first and of what was compared, as lines for a terminal.

import { sides } from "../bout/words";
import type { Comparison, Figures, OpenedBy } from "../figures";
import type { Ledger } from "../rules";
import { table } from "./lines";

export function figureLines(figures: Figures, { bout }: Ledger): readonly string[] {
  return [
    "in short",
    ...figures.summary.map(({ text }) => `  ${text}`),
    "",
    "who opened, and whose touch (net: touches for less against, of 10 phrases)",
    ...table([
      ["", "", "phrases", "for", "against", "neither", "net"],
      ...sides.flatMap((side) =>
        openers.flatMap(([by, says]): string[][] => {
          const { phrases, outcomes, net } = figures.opened[side][by];
          if (phrases.length === 0) return [];
          const [won, lost] = [outcomes.for.count, outcomes.against.count];
          return [
            [
              `  ${bout.fencers[side].name}`,
              says,
              String(phrases.length),
              String(won),
              String(lost),
              String(phrases.length - won - lost),
              limited(net, 1),
            ],
          ];
        }),
      ),
    ]),
    "",
    ...comparisonLines(figures.comparisons),
  ];
}

const openers: readonly (readonly [OpenedBy, string])[] = [
  ["own", "opened"],
  ["opponent", "the other opened"],
  ["both", "both opened"],
];

/** `1.2 (-1.9 to 4.1)`, or "none yet". */
export function limited(
  figure: { readonly value: number | null; readonly low: number | null; readonly high: number | null },
  digits: number,
): string {
  const { value, low, high } = figure;
  if (value === null) return "none yet";
  const limits = low === null || high === null ? "" : ` (${low.toFixed(digits)} to ${high.toFixed(digits)})`;
  return `${value.toFixed(digits)}${limits}`;
}

/** Those that pass in full; of the others how many there are. */
export function comparisonLines({ tried, list }: Figures["comparisons"]): readonly string[] {
  const passed = list.filter(({ passes }) => passes);
  const rest =
    passed.length === 0
      ? "none shows a difference beyond chance"
      : `${passed.length} beyond chance, after Holm`;
  return [`compared: ${tried} tried, ${rest}`, ...table(passed.map(comparisonRow))];
}

function comparisonRow(one: Comparison): readonly string[] {
  const p = one.adjusted < 0.0001 ? "p < 0.0001" : `p = ${one.adjusted.toFixed(4)}`;
  return [`  ${one.question}`, one.words, measured(one), p];
}

function measured(one: Comparison): string {
  const percent = (share: number) => (share * 100).toFixed(1);
  switch (one.kind) {
    case "shares":
    case "paired": {
      const { value, low, high } = one.difference;
      return `${percent(value)} points (${percent(low)} to ${percent(high)})`;
    }
    case "rates": {
      const { value, low, high } = one.ratio;
      const number = (ratio: number | null) => (ratio === null ? "any" : ratio.toFixed(2));
      return `${number(value)} times (${number(low)} to ${number(high)})`;
    }
    case "order":
      return `${one.seen.count}, usually ${one.seen.usual.low} to ${one.seen.usual.high}`;
  }
}
