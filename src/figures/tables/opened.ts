// Who committed first, by opener, family, action and target, as tables.

import { sides, type Side } from "../../bout/words";
import type { Ledger } from "../../rules";
import { namesOf } from "../bout-tests";
import type { Endings, Figures } from "../model";
import { outcomes } from "../outcomes";
import { listed, rateCells, rateColumns, type Cell, type Table } from "./cells";

export function openedTables(
  { opened, families, targets, conversion }: Figures,
  ledger: Ledger,
): readonly Table[] {
  const names = namesOf(ledger);
  const bySide = <T>(rows: (side: Side) => readonly T[]) => sides.flatMap((side) => rows(side));
  const openers = ["own", "opponent", "both", "nobody", "untagged"] as const;
  const converted = conversion.sides;
  return [
    {
      name: "opened",
      columns: ["side", "fencer", "opened_by", "outcome", ...rateColumns],
      rows: bySide((side) => openers.flatMap((by) => endingRows(opened[side][by], side, names[side], by))),
    },
    {
      name: "opened-net",
      columns: ["side", "fencer", "opened_by", ...netColumns],
      rows: bySide((side) => openers.map((by) => [side, names[side], by, ...netCells(opened[side][by])])),
    },
    {
      name: "families",
      columns: ["side", "fencer", "family", "outcome", ...rateColumns],
      rows: bySide((side) => families[side].flatMap((row) => endingRows(row, side, names[side], row.family))),
    },
    {
      name: "families-net",
      columns: ["side", "fencer", "family", ...netColumns],
      rows: bySide((side) => families[side].map((row) => [side, names[side], row.family, ...netCells(row)])),
    },
    {
      name: "families-scored",
      columns: ["side", "fencer", "family", ...rateColumns],
      rows: bySide((side) =>
        families[side].map((row) => [side, names[side], row.family, ...rateCells(row.scored)]),
      ),
    },
    {
      name: "actions",
      columns: ["side", "fencer", "action", ...rateColumns],
      rows: bySide((side) =>
        (converted?.[side] ?? []).map((row) => [side, names[side], row.action, ...rateCells(row.scored)]),
      ),
    },
    {
      name: "targets",
      columns: ["side", "fencer", "target", "family", "touches", "entries"],
      rows: bySide((side) =>
        targets[side].rows.flatMap(({ target, byFamily }) =>
          Object.entries(byFamily).map(([family, entries]) => [
            side,
            names[side],
            target,
            family,
            entries.length,
            listed(entries),
          ]),
        ),
      ),
    },
    {
      name: "told",
      columns: ["what", ...rateColumns],
      rows: [
        ["phrases with actions", ...rateCells(conversion.told)],
        ...sides.map((side) => [`touches of ${side} with a target`, ...rateCells(targets[side].given)]),
      ],
    },
  ];
}

function endingRows(endings: Endings, ...first: readonly Cell[]): readonly (readonly Cell[])[] {
  return outcomes.map((outcome) => [...first, outcome, ...rateCells(endings.outcomes[outcome])]);
}
const netColumns = ["phrases", "for", "against", "net_of_10", "low", "high", "entries"];
function netCells({ net, phrases }: Endings): readonly Cell[] {
  return [net.of, net.for, net.against, net.value, net.low, net.high, listed(phrases)];
}
