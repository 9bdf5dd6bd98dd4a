// Every move of the platforms with its error and the phrases fenced between, and every place, in words: what the drawings
// of the drift show.

import type { Drift, Stretch } from "../figures";
import type { Ledger } from "../rules";
import { spoken, told, along as alongSaid } from "./drift-words";
import type { EntryKeys } from "./entry-keys";
import type { Play } from "./evidence";
import { markup, type Markup } from "./markup";
import { centimetres, decimal } from "./numbers";

/** A step of the drift with what a page needs to show and play it. */
export interface PlatformMove {
  readonly step: Drift["steps"][number];
  /** The phrases fenced between the two places, as entries of the log. */
  readonly entries: readonly number[];
  readonly key: string;
  /** Time of the first of the two places, as written. */
  readonly at: string;
  readonly title: string;
}

export function platformMoves(
  { steps }: Drift,
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

export function movesTable(moves: readonly PlatformMove[], play: Play): Markup {
  return markup`<details data-key="moves"><summary>Every move</summary><div class="wide-table" role="region" aria-label="Every move, table" tabindex="0"><table class="course"><thead><tr><th scope="col">marked at</th><th scope="col">along the piste</th><th scope="col">across</th><th scope="col">turn</th><th scope="col">gap</th><th scope="col">left twists</th><th scope="col">right twists</th><th scope="col" class="number">phrases</th></tr></thead><tbody>${moves.map(
    (move) => {
      const { along, across, turn, gap, twist, error } = move.step;
      return markup`<tr><th scope="row">${move.at}</th><td>${told(along, alongSaid)} \u00b1 ${centimetres(error.along)}</td><td>${metres(across, error.across)}</td><td>${degrees(turn, error.turn)}</td><td>${metres(gap, error.gap)}</td><td>${degrees(twist?.left, error.twist?.left)}</td><td>${degrees(twist?.right, error.twist?.right)}</td><td class="number">${play(move, move.step.phrases)}</td></tr>`;
    },
  )}</tbody></table></div></details>`;
}

export function placesTable(stretches: readonly Stretch[]): Markup {
  return markup`<details data-key="places"><summary>Every place</summary><div class="wide-table" role="region" aria-label="Every place, table" tabindex="0"><table class="course"><thead><tr><th scope="col">stretch, place</th><th scope="col">marked at</th><th scope="col" class="number">phrases before</th><th scope="col">along the piste</th><th scope="col">across</th><th scope="col">direction</th><th scope="col">gap</th></tr></thead><tbody>${stretches.flatMap(
    ({ places }, index) =>
      places.map(
        ({ at, phrases, pose }, place) =>
          markup`<tr><th scope="row">${index + 1}, ${place + 1}</th><td>${spoken(at)}</td><td class="number">${phrases}</td><td>${centimetres(pose.along)}</td><td>${pose.frame === null ? unknown : centimetres(pose.frame.centre[1])}</td><td>${pose.frame === null ? unknown : `${decimal(pose.frame.direction, 1)}\u00b0`}</td><td>${pose.frame === null ? unknown : centimetres(pose.frame.gap)}</td></tr>`,
      ),
  )}</tbody></table></div></details>`;
}

const unknown = "unknown";

function metres(value: number | null, error: number | null): string {
  return value === null || error === null ? unknown : `${centimetres(value)} \u00b1 ${centimetres(error)}`;
}

function degrees(value: number | undefined | null, error: number | undefined | null): string {
  if (value === undefined || value === null || error === undefined || error === null) return unknown;
  return `${decimal(value, 1)}\u00b0 \u00b1 ${decimal(error, 1)}\u00b0`;
}
