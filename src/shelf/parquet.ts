// The phrase table as Apache Parquet, a folder for each season and weapon, in the layout that SQL engines over files read
// as one table (Hive partitions).

import { closeSync, fsyncSync, mkdirSync, openSync, writeFileSync } from "node:fs";
import path from "node:path";
import { ByteWriter, ParquetWriter } from "hyparquet-writer";
import {
  phraseColumns,
  phraseTableVersion,
  seasonOf,
  type Column,
  type PhraseCell,
  type PhraseTableRow,
} from "../figures";

/** What Hive, and the engines after it, write for a part without a value; read back as NULL. */
const noValue = "__HIVE_DEFAULT_PARTITION__";

/** Rows of one part held in memory until they are written as a row group. */
const groupRows = 20_000;

const types = {
  text: { type: "BYTE_ARRAY", converted_type: "UTF8" },
  integer: { type: "INT32" },
  number: { type: "DOUBLE" },
  date: { type: "INT32", converted_type: "DATE" },
  truth: { type: "BOOLEAN" },
} as const;

const schema = [
  { name: "phrases", num_children: phraseColumns.length },
  ...phraseColumns.map(({ name, type, always }) => ({
    name,
    ...types[type],
    repetition_type: always === true ? ("REQUIRED" as const) : ("OPTIONAL" as const),
  })),
];

/** `season=YYYY/weapon=W`; with no date the season has no value. */
export function partitionOf(row: PhraseTableRow): string {
  return `season=${seasonOf(row.date) ?? noValue}/weapon=${String(row.weapon)}`;
}

/** Parts under one folder; rows in any order. */
export class ParquetFolder {
  readonly #folder: string;
  readonly #parts = new Map<string, Part>();

  constructor(folder: string) {
    this.#folder = folder;
  }

  add(rows: readonly PhraseTableRow[]): void {
    for (const row of rows) {
      const name = partitionOf(row);
      let part = this.#parts.get(name);
      if (part === undefined) {
        part = new Part(path.join(this.#folder, ...name.split("/")));
        this.#parts.set(name, part);
      }
      part.add(row);
    }
  }

  finish(): void {
    for (const part of this.#parts.values()) part.finish();
  }

  /** Lets go of the files, whatever became of them. */
  close(): void {
    for (const part of this.#parts.values()) part.close();
  }
}

class Part {
  readonly #file: number;
  #open = true;
  readonly #bytes = new ByteWriter();
  readonly #writer: ParquetWriter;
  #rows: PhraseTableRow[] = [];

  constructor(folder: string) {
    mkdirSync(folder, { recursive: true });
    this.#file = openSync(path.join(folder, "part-0.parquet"), "wx");
    this.#writer = new ParquetWriter({
      writer: this.#bytes,
      schema,
      createdBy: "Boutline",
      kvMetadata: [{ key: "boutline.phrases", value: String(phraseTableVersion) }],
    });
  }

  add(row: PhraseTableRow): void {
    this.#rows.push(row);
    if (this.#rows.length >= groupRows) this.#writeGroup();
  }

  finish(): void {
    this.#writeGroup();
    void this.#writer.finish();
    this.#flush();
    fsyncSync(this.#file);
    this.close();
  }

  close(): void {
    if (this.#open) closeSync(this.#file);
    this.#open = false;
  }

  #writeGroup(): void {
    if (this.#rows.length === 0) return;
    const columnData = phraseColumns.map((column) => ({
      name: column.name,
      data: this.#rows.map((row) => stored(row[column.name], column)),
    }));
    void this.#writer.write({ columnData, rowGroupSize: groupRows });
    this.#rows = [];
    this.#flush();
  }

  #flush(): void {
    writeFileSync(this.#file, new Uint8Array(this.#bytes.buffer, 0, this.#bytes.index));
    this.#bytes.index = 0;
  }
}

/** Days are whole days since 1970 to Parquet; its writer takes them as dates. */
function stored(cell: PhraseCell, { type }: Column): PhraseCell | Date {
  return type === "date" && typeof cell === "string" ? new Date(`${cell}T00:00:00Z`) : cell;
}
