// Rows as columns, so that a whole shelf is read from its cache in little time: thousands of bouts share a few hundred
// fencers, events and scores, each of which is written once, and a row is where its values stand in these lists. Numbers
// are kept as the machine has them, so that there is nothing to decode.

import path from "node:path";
import type { BoutRow, ShelfRow } from "./row";

/** Different values, and for each row the place of its own among them; -1 for none. */
interface Column<Value> {
  readonly values: readonly Value[];
  readonly at: Int32Array;
}

/** A shelf as it is written. */
export interface PackedRows {
  /** The rows that are bouts, in their order. */
  readonly folders: Column<string>;
  readonly names: readonly string[];
  readonly sizes: Uint32Array;
  readonly modified: Float64Array;
  readonly sums: readonly string[];
  readonly columns: Columns;
  /** The other rows, each with its place among all. */
  readonly others: readonly (readonly [number, ShelfRow])[];
}

const fields = [
  "title",
  "event",
  "round",
  "date",
  "weapon",
  "format",
  "rules",
  "score",
  "winner",
  "phrases",
  "uncalled",
  "findings",
  "recordings",
  "editionFile",
] as const satisfies readonly (keyof BoutRow)[];
type Field = (typeof fields)[number];
type Columns = { readonly [Key in Field]: Column<BoutRow[Key]> } & {
  readonly left: Column<BoutRow["fencers"]["left"]>;
  readonly right: Column<BoutRow["fencers"]["right"]>;
};

export function packedRows(rows: readonly ShelfRow[]): PackedRows {
  const bouts = rows.filter((row) => row.is === "bout");
  const columns = Object.fromEntries(fields.map((field) => [field, columnOf(bouts, (bout) => bout[field])]));
  return {
    folders: columnOf(bouts, ({ file }) => path.dirname(file)),
    names: bouts.map(({ file }) => path.basename(file)),
    sizes: Uint32Array.from(bouts, ({ size }) => size),
    modified: Float64Array.from(bouts, ({ modified }) => modified),
    sums: bouts.map(({ sum }) => sum),
    columns: {
      ...(columns as { [Key in Field]: Column<BoutRow[Key]> }),
      left: columnOf(bouts, ({ fencers }) => fencers.left),
      right: columnOf(bouts, ({ fencers }) => fencers.right),
    },
    others: [...rows.entries()].filter(([, row]) => row.is !== "bout"),
  };
}

/** The same rows in the same order. Values that rows share are one and the same object. */
export function unpackedRows(packed: PackedRows): readonly ShelfRow[] {
  const { folders, names, sizes, modified, sums, columns, others } = packed;
  const rows: ShelfRow[] = [];
  const before = { ...folders, values: folders.values.map((folder) => path.join(folder, path.sep)) };
  let next = 0;
  const addOthers = () => {
    for (let other = others[next]; other?.[0] === rows.length; other = others[++next]) rows.push(other[1]);
  };
  for (let at = 0; at < names.length; at++) {
    addOthers();
    rows.push({
      is: "bout",
      file: there(valueAt(before, at)) + there(names[at]),
      size: there(sizes[at]),
      modified: there(modified[at]),
      sum: there(sums[at]),
      title: valueAt(columns.title, at),
      event: valueAt(columns.event, at),
      round: valueAt(columns.round, at),
      date: valueAt(columns.date, at),
      weapon: there(valueAt(columns.weapon, at)),
      format: there(valueAt(columns.format, at)),
      rules: there(valueAt(columns.rules, at)),
      fencers: { left: there(valueAt(columns.left, at)), right: there(valueAt(columns.right, at)) },
      score: there(valueAt(columns.score, at)),
      winner: valueAt(columns.winner, at) ?? null,
      phrases: there(valueAt(columns.phrases, at)),
      uncalled: there(valueAt(columns.uncalled, at)),
      findings: there(valueAt(columns.findings, at)),
      recordings: there(valueAt(columns.recordings, at)),
      editionFile: valueAt(columns.editionFile, at),
    });
  }
  addOthers();
  return rows;
}

function columnOf<Value>(bouts: readonly BoutRow[], of: (bout: BoutRow) => Value): Column<Value> {
  const places = new Map<string | undefined, number>([[undefined, -1]]);
  const values: Value[] = [];
  const at = Int32Array.from(bouts, (bout) => {
    const value = of(bout);
    const key = JSON.stringify(value) as string | undefined;
    let place = places.get(key);
    if (place === undefined) {
      place = values.push(value) - 1;
      places.set(key, place);
    }
    return place;
  });
  return { values, at };
}

function valueAt<Value>({ values, at }: Column<Value>, row: number): Value | undefined {
  return values[there(at[row])];
}

/** Throws where a column is shorter than another: somebody has cut the file. */
function there<Value>(value: Value | undefined): Value {
  if (value === undefined) throw new Error("a column is too short");
  return value;
}
