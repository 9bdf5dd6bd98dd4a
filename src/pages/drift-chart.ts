// Each step of the platforms as a dot with its limits, in the order of the bout.

import { scaleLinear } from "d3-scale";
import type { PlatformMove } from "./drift-moves";
import { short } from "./interval-bar";
import { markup, type Markup } from "./markup";
import type { ChartSize } from "./score-chart";

const left = 62;
const top = 16;
const plotHeight = 130;
const bottom = top + plotHeight;

export function driftChart(
  moves: readonly PlatformMove[],
  size: ChartSize,
  label: string,
  playable: boolean,
): Markup {
  const x = scaleLinear([0, moves.length + 1], [left, size.width - 16]);
  const reach = Math.max(0.02, ...moves.map(({ step }) => Math.abs(step.along) + step.error.along));
  const y = scaleLinear([-reach, reach], [bottom, top]).nice(4);
  const ticks = y.ticks(4);
  return markup`<svg class="chart drift ${size.name}" viewBox="0 0 ${size.width} ${bottom + 22}" role="img" aria-label="${label}"><g class="grid">${ticks.map(
    (tick) =>
      markup`<path${tick === 0 && markup` class="zero"`} d="M${left} ${short(y(tick))}H${size.width - 16}"/>`,
  )}</g><g class="ticks">${ticks.map(
    (tick) =>
      markup`<text x="${left - 8}" y="${short(y(tick) + 4)}" text-anchor="end">${short(Math.abs(tick) * 100)} cm</text>`,
  )}<text x="${left + 4}" y="${top - 5}">towards the right end</text><text x="${left + 4}" y="${bottom + 14}">towards the left end</text></g>${moves.map(
    ({ step: { along, error }, entries, key, title }, index) => {
      const at = short(x(index + 1));
      const plays =
        playable && entries.length > 0 && markup` data-key="${key}" data-entries="${entries.join(",")}"`;
      return markup`<g${plays}><title>${title}</title><path class="catch" d="M${at} ${top}V${bottom}"/><path class="whisker" d="M${at} ${short(y(along - error.along))}V${short(y(along + error.along))}"/><circle class="dot" cx="${at}" cy="${short(y(along))}" r="3.5"/></g>`;
    },
  )}</svg>`;
}
