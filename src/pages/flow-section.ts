// How did the bout run? Leads, the order of touches against shuffled orders, tempo, and what the stops cost.

import { sides } from "../bout/words";
import type { AgainstShuffles, Figures, StopTotal } from "../figures";
import { intervalBar } from "./interval-bar";
import { markup, type Content, type Markup } from "./markup";
import { clock, counted, decimal } from "./numbers";
import { noneYet, type Reader } from "./reader";
import { secondsWords } from "./seconds";

export function flowSection({ flow }: Figures, reader: Reader): Markup {
  return markup`<div class="pair">${leads(flow, reader)}${tempo(flow, reader)}</div>
${order(flow, reader)}
<div class="pair stops">${stops("Stops by who asked", flow.stopsBy, "by", reader)}${stops("Stops by what for", flow.stopsFor, "for", reader)}</div>`;
}

type Flow = Figures["flow"];

function leads({ leadChanges, largestLead, line }: Flow, { names, play }: Reader): Markup {
  return rows("Leads", [
    [
      "the lead passed over",
      line.length === 0
        ? noneYet
        : markup`${play({ key: "flow.leadChanges", title: "changes of the lead", entries: leadChanges }, counted(leadChanges.length, "time"))}`,
    ],
    ...sides.map((side): readonly [string, Content] => {
      const { by, score, entry } = largestLead[side];
      return [
        `largest lead of ${names[side]}`,
        entry === null
          ? "never led"
          : markup`${play({ key: `flow.lead.${side}`, title: `largest lead, ${names[side]}`, entries: [entry] }, counted(by, "touch", "touches"))} at ${score[0]}:${score[1]}`,
      ];
    }),
  ]);
}

function tempo({ tempo: { phrases, pauses, plainPauses } }: Flow, { play }: Reader): Markup {
  return rows("Tempo", [
    ["a phrase", secondsWords(phrases, play, "flow.phrases", "phrases with a command")],
    ["a pause between phrases", secondsWords(pauses, play, "flow.pauses", "pauses between phrases")],
    [
      "a pause without card, review or stop",
      secondsWords(plainPauses, play, "flow.plainPauses", "pauses without card, review or stop"),
    ],
  ]);
}

function rows(title: string, lines: readonly (readonly [string, Content])[]): Markup {
  return markup`<table class="plain"><caption>${title}</caption><tbody>${lines.map(
    ([name, content]) => markup`<tr><th scope="row">${name}</th><td>${content}</td></tr>`,
  )}</tbody></table>`;
}

/** Every count of the order beside what orders of the same touches give. */
function order({ order: found }: Flow, { names, play }: Reader): Markup {
  if (found === null)
    return markup`<p class="line">Runs of touches: told once both fencers have a touch of their own.</p>`;
  const line = (title: string, key: string, { count, expected, usual, entries }: AgainstShuffles) => {
    const most = Math.max(count, usual.high) * 1.1 || 1;
    return markup`<tr><th scope="row">${title}</th><td class="number">${play({ key: `flow.order.${key}`, title, entries }, count)}</td><td class="number">${decimal(expected, 1)}</td><td>${intervalBar({ value: count, low: usual.low, high: usual.high }, [0, most], [])} <span class="limits">${usual.low} to ${usual.high}</span></td></tr>`;
  };
  const all = found.touches.left.length + found.touches.right.length;
  const how =
    found.orders === "all" ? "every order" : "10,000 shuffled orders, each part of the recording by itself,";
  return markup`<table class="grid-table order"><caption>Order of the ${all} touches, beside ${how} of the same touches</caption><thead><tr><td></td><th scope="col" class="number">seen</th><th scope="col" class="number">expected</th><th scope="col">95 of 100 orders</th></tr></thead><tbody>${[
    line("runs of touches of one side", "runs", found.runs),
    ...sides.map((side) => line(`longest run of ${names[side]}`, `longest.${side}`, found.longest[side])),
    ...sides.map((side) =>
      line(`touches of ${names[side]} straight after being hit`, `afterHit.${side}`, found.afterHit[side]),
    ),
    ...sides.map((side) =>
      line(
        `touches of ${names[side]} straight after scoring`,
        `afterScoring.${side}`,
        found.afterScoring[side],
      ),
    ),
  ]}</tbody></table>`;
}

function stops(title: string, totals: readonly StopTotal[], key: string, { names, play }: Reader): Markup {
  const named = (what: string) => (what === "left" || what === "right" ? names[what] : what);
  return rows(
    title,
    totals.length === 0
      ? [["stops", noneYet]]
      : totals.map(({ what, stops, seconds, timed }) => [
          named(what),
          markup`${play({ key: `flow.stops.${key}.${what}`, title: `stops, ${named(what)}`, entries: stops }, counted(stops.length, "stop"))}, ${
            timed === 0
              ? "length not told"
              : `${clock(seconds)} in all${timed < stops.length ? ` of ${timed} with an end` : ""}`
          }`,
        ]),
  );
}
