// The score, the order of touches, the tempo, cards and stops as tables.

import { sides } from "../../bout/words";
import type { Figures } from "../model";
import { listed, medianCells, medianColumns, type Table } from "./cells";

export function flowTables({ flow }: Figures): readonly Table[] {
  const { order, tempo } = flow;
  const found =
    order === null
      ? []
      : [
          ["runs", "", order.runs] as const,
          ...sides.flatMap((side) => [
            ["longest run", side, order.longest[side]] as const,
            ["touch after being hit", side, order.afterHit[side]] as const,
            ["touch after scoring", side, order.afterScoring[side]] as const,
          ]),
        ];
  return [
    {
      name: "score",
      columns: ["entry", "phrase", "left", "right", "by"],
      rows: flow.line.map(({ entry, phrase, score, by }) => [entry, phrase, ...score, by]),
    },
    {
      name: "order",
      columns: ["what", "side", "count", "expected", "usual_low", "usual_high", "orders", "entries"],
      rows: found.map(([what, side, { count, expected, usual, entries }]) => [
        what,
        side,
        count,
        expected,
        usual.low,
        usual.high,
        order?.orders ?? null,
        listed(entries),
      ]),
    },
    {
      name: "tempo",
      columns: ["what", ...medianColumns],
      rows: [
        ["phrases, seconds", ...medianCells(tempo.phrases)],
        ["pauses, seconds", ...medianCells(tempo.pauses)],
        ["pauses without card, review or stop, seconds", ...medianCells(tempo.plainPauses)],
      ],
    },
    {
      name: "cards",
      columns: ["entry", "to", "card", "for", "touches_left", "touches_right", "score_left", "score_right"],
      rows: flow.cards.map(({ entry, to, card, for: offence, cost, score }) => [
        entry,
        to,
        card,
        offence,
        cost.left,
        cost.right,
        ...score,
      ]),
    },
    {
      name: "stops",
      columns: ["entry", "for", "by", "seconds"],
      rows: flow.stops.map(({ entry, for: reasons, by, seconds }) => [
        entry,
        reasons.join("; "),
        by,
        seconds,
      ]),
    },
  ];
}
