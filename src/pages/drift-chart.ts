// Where the platforms stand along the piste, phrase after phrase: one line a stretch between re-centres.

import { scaleLinear } from "d3-scale";
import type { Track, TrackPlace } from "../figures";
import type { PlatformMove } from "./drift-moves";
import { short } from "./interval-bar";
import { markup, type Markup } from "./markup";
import { decimal } from "./numbers";
import type { ChartSize } from "./score-chart";

const left = 62;
const top = 18;
const plotHeight = 170;
const bottom = top + plotHeight;

export interface PositionChart {
  readonly tracks: readonly Track[];
  /** By the entry at which the move ends. */
  readonly moves: ReadonlyMap<number, PlatformMove>;
  readonly label: string;
  readonly playable: boolean;
}

export function driftChart({ tracks, moves, label, playable }: PositionChart, size: ChartSize): Markup {
  const places = tracks.flatMap((track) => track.places);
  const phrases = Math.max(1, ...places.map((place) => place.phrases));
  const x = scaleLinear([0, phrases], [left + 8, size.width - 20]);
  const alongs = places.map((place) => place.along);
  const room = 0.02;
  const y = scaleLinear([Math.min(0, ...alongs) - room, Math.max(0, ...alongs) + room], [bottom, top]).nice(
    5,
  );
  const ticks = y.ticks(5);
  const numbers = x.ticks(Math.max(2, Math.floor(size.width / 90))).filter(Number.isInteger);
  const grid = markup`<g class="grid">${ticks.map(
    (tick) =>
      markup`<path${tick === 0 && markup` class="zero"`} d="M${left} ${short(y(tick))}H${size.width - 16}"/>`,
  )}</g><g class="ticks">${ticks.map(
    (tick) =>
      markup`<text x="${left - 8}" y="${short(y(tick) + 4)}" text-anchor="end">${decimal(tick * 100, 0)} cm</text>`,
  )}${numbers.map(
    (tick) =>
      markup`<path d="M${short(x(tick))} ${bottom}v4"/><text x="${short(x(tick))}" y="${bottom + 17}" text-anchor="middle">${tick}</text>`,
  )}<text x="${size.width - 16}" y="${bottom + 32}" text-anchor="end">phrases fenced</text><text x="${left + 4}" y="${top - 6}">\u2191 towards the right end</text></g>`;
  return markup`<svg class="chart drift ${size.name}" viewBox="0 0 ${size.width} ${bottom + 38}" role="img" aria-label="${label}">${grid}${tracks.map(
    (track, index) => {
      const points = track.places.map((place) => `${short(x(place.phrases))} ${short(y(place.along))}`);
      const next = tracks[index + 1]?.places[0];
      const last = track.places.at(-1);
      const back =
        track.end === "re-centre" &&
        next !== undefined &&
        last !== undefined &&
        markup`<path stroke-dasharray="3 3" d="M${short(x(last.phrases))} ${short(y(last.along))}L${short(x(next.phrases))} ${short(y(next.along))}"><title>re-centred after phrase ${last.phrases}</title></path>`;
      return markup`<path class="line" d="M${points.join("L")}"/>${back}${track.places.map((place) => dot(place, track.places[0]))}`;
    },
  )}</svg>`;

  function dot(place: TrackPlace, first: TrackPlace | undefined): Markup {
    const move = moves.get(place.entry);
    const at = short(x(place.phrases));
    const middle = y(place.along);
    const { error } = place;
    const plays =
      playable &&
      move !== undefined &&
      move.entries.length > 0 &&
      markup` data-key="${move.key}" data-entries="${move.entries.join(",")}"`;
    const title =
      move === undefined ? `first place of a stretch, marked after phrase ${place.phrases}` : move.title;
    const whisker =
      error > 0 &&
      markup`<path class="whisker" d="M${at} ${short(y(place.along - error))}V${short(y(place.along + error))}"/>`;
    return markup`<g${plays}><title>${title}</title><path class="catch" d="M${at} ${top}V${bottom}"/>${whisker}<circle class="${first === place ? "sign" : "dot"}" cx="${at}" cy="${short(middle)}" r="3.5"/></g>`;
  }
}
