// Each chart of a sheet as a picture of its own: an SVG file with its own colours, which needs nothing else.

import { figuresOf, type EvidencedRate, type Figures, type StudySheet } from "../figures";
import { namesOf } from "../figures/bout-tests";
import type { Ledger, Sided } from "../rules";
import { driftSection } from "./drift-section";
import { entryKeys } from "./entry-keys";
import { player } from "./evidence";
import { Markup, markup } from "./markup";
import { counted } from "./numbers";
import { chartSizes, scoreChart } from "./score-chart";
import { courseOf, courseWords, hasBegun } from "./score-course";
import { sharesChart } from "./shares-chart";

export interface ChartFile {
  /** File name without its ending. */
  readonly name: string;
  readonly svg: string;
}

/** The charts that have something to show. */
export function chartFiles(
  { sheet }: StudySheet,
  ledger: Ledger,
  figures: Figures = figuresOf(ledger),
): readonly ChartFile[] {
  const names = namesOf(ledger);
  const keys = entryKeys(ledger);
  const course = courseOf(ledger, keys, "file");
  const [wide] = chartSizes;
  if (wide === undefined || !hasBegun(course)) return [];
  const score = scoreChart(course, names, wide, courseWords(course, names));
  const files = [alone("score", `Score of ${names.left} and ${names.right}`, score)];
  if (figures.phrases.length > 0)
    files.push(
      alone(
        "opened",
        "Who committed first, and whose touch it was",
        sharesChart(openedGroups(figures, names)),
      ),
    );
  const conversion = figures.conversion.sides;
  if (conversion !== null && conversion.left.length + conversion.right.length > 0)
    files.push(
      alone(
        "actions",
        "Attempts that scored, of the phrases in which the action was used",
        sharesChart(
          (["left", "right"] as const).map((side) => ({
            title: names[side],
            rows: conversion[side].map(({ action, scored }) => ({ label: action, rate: scored })),
          })),
        ),
      ),
    );
  for (const [kind, svg] of drawingsIn(
    driftSection(sheet.drift, ledger, names, keys, player(ledger.bout, "file"), false),
  ))
    files.push(
      alone(
        kind,
        kind === "drift" ? "Drift of the platforms along the piste" : "The platforms from above",
        svg,
      ),
    );
  return files;
}

/** The wide drawings of a section, by the word of their class that names them. */
function drawingsIn({ text }: Markup): readonly (readonly [string, Markup])[] {
  return [...text.matchAll(/<svg class="chart ([a-z-]+) wide".*?<\/svg>/gs)].map(
    ([svg, kind = "chart"]) => [kind === "drift" ? kind : `drift-${kind}`, new Markup(svg)] as const,
  );
}

function openedGroups({ opened: { left } }: Figures, names: Sided<string>) {
  const row = (label: string, rate: EvidencedRate) => ({ label, rate });
  return (
    [
      ["own", `${names.left} opened`],
      ["opponent", `${names.right} opened`],
      ["both", "both opened"],
    ] as const
  )
    .filter(([by]) => left[by].phrases.length > 0)
    .map(([by, title]) => ({
      title: `${title}: ${counted(left[by].phrases.length, "phrase")}`,
      rows: [
        row(`touch ${names.left}`, left[by].outcomes.for),
        row(`touch ${names.right}`, left[by].outcomes.against),
      ],
    }));
}

/** Room for the title above the chart, in pixels. */
const head = 34;
const size = /viewBox="0 0 ([\d.]+) ([\d.]+)"/;

function alone(name: string, title: string, chart: Markup): ChartFile {
  const [, width = "860", height = "300"] = size.exec(chart.text) ?? [];
  const whole = Number(height) + head;
  const svg = markup`<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 ${width} ${whole}" width="${width}" height="${whole}"><title>${title}</title><style>${new Markup(style)}</style><rect class="page" width="100%" height="100%"/><text class="title" x="12" y="23">${title}</text><svg y="${head}" width="${width}" height="${height}"${new Markup(chart.text.slice("<svg".length))}</svg>
`;
  return { name, svg: `<?xml version="1.0" encoding="UTF-8"?>\n${svg.text}` };
}

const style = `
text { fill: #1f1f1f; font: 12px system-ui, sans-serif; }
path { fill: none; stroke: #1f1f1f; }
.page { fill: #ffffff; }
.title { font-size: 15px; font-weight: 600; }
.grid path { stroke: #e6e6e6; }
.grid .zero { stroke: #555555; }
.ticks text, .lane text, .period text, .counts { fill: #555555; }
.ticks path, .lane .rule { stroke: #b5b5b5; }
.lead { fill: #e6e6e6; stroke: none; }
.line { stroke-width: 2; }
.line.right { stroke-dasharray: 6 3; }
.lane text { paint-order: stroke; stroke: #ffffff; stroke-width: 3px; }
.names text { font-size: 13px; }
.names .score, .group { font-weight: 600; }
.period path { stroke: #555555; stroke-dasharray: 2 3; }
.sign { fill: #ffffff; stroke: #1f1f1f; stroke-width: 1.3; }
.stroke, .whisker { stroke-width: 1.5; }
.catch { fill: none; stroke: none; }
.track { stroke: #b5b5b5; }
.range { fill: #a8a8a8; }
.point { stroke-width: 2.5; }
.dot { fill: #1f1f1f; }
.set-back { stroke: #555555; stroke-dasharray: 3 3; }
`;
