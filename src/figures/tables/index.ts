// The figures as tables of plain cells, one a subject, for spreadsheets and statistics programs.

import type { Ledger } from "../../rules";
import type { Figures } from "../model";
import { callTables, wordTables } from "./calls";
import { listed, type Table } from "./cells";
import { comparisonsTable } from "./comparisons";
import { flowTables } from "./flow";
import { openedTables } from "./opened";

export { agreementTables } from "./agreement";
export type { Cell, Table } from "./cells";
export { comparisonsTable } from "./comparisons";
export { csvText } from "./csv";

/** Every table of a sheet but its drift; one with nothing to tell has its columns alone. */
export function tablesOf(figures: Figures, ledger: Ledger): readonly Table[] {
  return [
    {
      name: "summary",
      columns: ["line", "entries"],
      rows: figures.summary.map(({ text, entries }) => [text, listed(entries)]),
    },
    ...openedTables(figures, ledger),
    ...wordTables(figures),
    ...callTables(figures),
    ...flowTables(figures),
    comparisonsTable("comparisons", figures.comparisons),
  ];
}
