// Every move of the platforms with its error and the phrases fenced between, in words: what the drift chart shows.

import type { DriftSummary } from "../piste";
import type { Ledger } from "../rules";
import type { EntryKeys } from "./entry-keys";
import type { Play } from "./evidence";
import { markup, type Markup } from "./markup";
import { centimetres, decimal } from "./numbers";

/** A step of the drift with what a page needs to show and play it. */
export interface PlatformMove {
  readonly step: DriftSummary["steps"][number];
  /** The phrases fenced between the two places, as entries of the log. */
  readonly entries: readonly number[];
  readonly key: string;
  /** Time of the first of the two places, as written. */
  readonly at: string;
  readonly title: string;
}

export function platformMoves(
  { steps }: DriftSummary,
  { rows, byEntry }: Ledger,
  keys: EntryKeys,
): readonly PlatformMove[] {
  const phrases = rows.flatMap((row) =>
    row.kind === "phrase" && row.phrase.closed && row.phrase.counts ? [row.record.index] : [],
  );
  let next = 0;
  return steps.map((step) => {
    while ((phrases[next] ?? Infinity) < step.from) next++;
    const first = next;
    while ((phrases[next] ?? Infinity) < step.to) next++;
    const at = byEntry[step.from]?.record.at ?? "";
    return {
      step,
      entries: phrases.slice(first, next),
      key: `move.${keys(step.from)}`,
      at,
      title: `phrases after the platforms were marked at ${at}`,
    };
  });
}

/** `towards` says a signed way along the piste in words. */
export function movesTable(
  moves: readonly PlatformMove[],
  towards: (metres: number) => string,
  play: Play,
): Markup {
  return markup`<details data-key="moves"><summary>Every move</summary><table class="course"><thead><tr><th scope="col">marked at</th><th scope="col">along the piste</th><th scope="col">turn</th><th scope="col">gap</th><th scope="col" class="number">phrases</th></tr></thead><tbody>${moves.map(
    (move) => {
      const { along, turn, gap, error } = move.step;
      return markup`<tr><th scope="row">${move.at}</th><td>${towards(along)} \u00b1 ${centimetres(error.along)}</td><td>${
        turn === null || error.turn === null
          ? "unknown"
          : `${decimal(turn, 1)}\u00b0 \u00b1 ${decimal(error.turn, 1)}\u00b0`
      }</td><td>${
        gap === null || error.gap === null
          ? "unknown"
          : `${centimetres(gap)} \u00b1 ${centimetres(error.gap)}`
      }</td><td class="number">${play(move, move.step.phrases)}</td></tr>`;
    },
  )}</tbody></table></details>`;
}
