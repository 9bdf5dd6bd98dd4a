// What two taggers of one bout say, as tables. Entries of the first file stand under "first", of the second under
// "second".

import type { Agreement } from "../agreement";
import { medianCells, medianColumns, type Table } from "./cells";

export function agreementTables({
  matched,
  unmatched,
  start,
  halt,
  judgements,
  differences,
}: Agreement): readonly Table[] {
  return [
    {
      name: "agreement",
      columns: ["what", "among", "phrases", "alike", "by_chance", "kappa", "low", "high"],
      rows: judgements.map(({ what, among, kappa }) => [
        what,
        among,
        kappa.of,
        kappa.agreed,
        kappa.of === 0 ? null : kappa.chance,
        kappa.value,
        kappa.low,
        kappa.high,
      ]),
    },
    {
      name: "agreement-words",
      columns: ["what", "first", "second", "phrases"],
      rows: judgements.flatMap(({ what, words, table }) =>
        table.flatMap((row, first) =>
          row.map((count, second) => [what, words[first] ?? "", words[second] ?? "", count]),
        ),
      ),
    },
    {
      name: "agreement-times",
      columns: ["what", ...medianColumns],
      rows: [
        ["start, second less first, seconds", ...medianCells(start)],
        ["halt, second less first, seconds", ...medianCells(halt)],
      ],
    },
    {
      name: "agreement-matched",
      columns: ["first_entry", "second_entry", "overlap_seconds", "start_difference", "halt_difference"],
      rows: matched.map(({ first, second, overlap, start, halt }) => [first, second, overlap, start, halt]),
    },
    {
      name: "agreement-unmatched",
      columns: ["file", "entry"],
      rows: [
        ...unmatched.first.map((entry) => ["first", entry]),
        ...unmatched.second.map((entry) => ["second", entry]),
      ],
    },
    {
      name: "agreement-differences",
      columns: ["what", "first_entry", "first", "second_entry", "second"],
      rows: differences.map(({ what, first, second }) => [
        what,
        first.entry,
        first.says,
        second.entry,
        second.says,
      ]),
    },
  ];
}
