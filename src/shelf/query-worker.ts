// The thread of a query: reads the bouts, fills a table in memory, and lets one statement read it. SQLite's authoriser is
// asked about everything a statement does before it runs; all but reading the one table is refused, so that no statement
// writes, opens a file or changes a setting.

import { readFileSync } from "node:fs";
import path from "node:path";
import { parentPort, workerData } from "node:worker_threads";
import startSqlite, { type Database, type Sqlite3Static } from "@sqlite.org/sqlite-wasm";
import { failure, success, type Result } from "../bout/result";
import { phraseColumns, phraseTable, type ColumnType, type PhraseTableRow } from "../figures/phrase-table";
import { ledgerAt } from "./ledger-at";
import type { FromThread, QueryAnswer, QueryJob, ResultCell } from "./query";

/** Bytes: of SQLite's memory, and of one value, so that no question fills the machine. */
const mostMemory = 512 * 1024 * 1024;
const longestValue = 10_000_000;
/** Characters in all cells of an answer. */
const mostText = 20_000_000;

const sqlTypes: Readonly<Record<ColumnType, string>> = {
  text: "TEXT",
  integer: "INTEGER",
  number: "REAL",
  date: "TEXT",
  truth: "INTEGER",
};

void answer(workerData as QueryJob).then((message) => tell(message));

function tell(message: FromThread): void {
  parentPort?.postMessage(message);
}

async function answer({ sql, bouts, mostRows }: QueryJob): Promise<FromThread> {
  const leftOut: { file: string; message: string }[] = [];
  const reading = phrasesOf(bouts, leftOut);
  // Bouts are read while SQLite is made ready, which this thread has little to do with.
  const starting = sqliteStarted();
  const [sqlite, first] = await Promise.all([starting.ready, takenUntil(starting, reading)]);
  const database = new sqlite.oo1.DB(":memory:", "c");
  const names = phraseColumns.map(({ name }) => name);
  database.exec(
    `CREATE TABLE phrases (${phraseColumns.map(({ name, type }) => `${name} ${sqlTypes[type]}`).join(", ")})`,
  );
  database.exec("BEGIN");
  const insert = database.prepare(`INSERT INTO phrases VALUES (${names.map(() => "?").join(", ")})`);
  let phrases = 0;
  let before: readonly ResultCell[] = [];
  const fill = (rows: readonly PhraseTableRow[]) => {
    for (const row of rows) {
      const values = valuesOf(row);
      // A statement keeps what was bound to it, and much is the same all through a bout.
      values.forEach((value, index) => {
        if (value !== before[index]) insert.bind(index + 1, value);
      });
      insert.stepReset();
      before = values;
    }
    phrases += rows.length;
  };
  for (const rows of first) fill(rows);
  for await (const rows of reading) fill(rows);
  insert.finalize();
  database.exec("COMMIT");
  database.exec(`PRAGMA hard_heap_limit = ${mostMemory}`);
  sqlite.capi.sqlite3_limit(database, sqlite.capi.SQLITE_LIMIT_LENGTH, longestValue);
  closeAllButReading(sqlite, database);
  tell({ is: "ready" });
  const found = ask(sqlite, database, sql, mostRows);
  return found.ok
    ? { is: "answer", answer: { ...found.value, phrases, leftOut } }
    : { is: "refused", problem: found.problem };
}

interface Starting {
  readonly ready: Promise<Sqlite3Static>;
  isReady: boolean;
}

function sqliteStarted(): Starting {
  const quiet = () => undefined;
  const start = startSqlite as (options: object) => Promise<Sqlite3Static>;
  const wasmBinary = readFileSync(path.join(__dirname, "sqlite3.wasm"));
  const ready = start({ wasmBinary, print: quiet, printErr: quiet });
  const starting: Starting = { ready, isReady: false };
  const over = () => {
    starting.isReady = true;
  };
  ready.then(over, over);
  return starting;
}

/** The rows of bouts read until SQLite is ready; all where it takes longer. */
async function takenUntil(
  starting: Starting,
  reading: AsyncGenerator<readonly PhraseTableRow[]>,
): Promise<readonly (readonly PhraseTableRow[])[]> {
  const taken: (readonly PhraseTableRow[])[] = [];
  while (!starting.isReady) {
    const next = await reading.next();
    if (next.done === true) break;
    taken.push(next.value);
  }
  return taken;
}

/** The rows of bout after bout; one that can't be read is added to `leftOut`. */
async function* phrasesOf(
  bouts: QueryJob["bouts"],
  leftOut: { file: string; message: string }[],
): AsyncGenerator<readonly PhraseTableRow[]> {
  for (const bout of bouts) {
    const ledger = await ledgerAt(bout.path);
    if (ledger.ok) yield phraseTable(ledger.value, bout);
    else leftOut.push({ file: bout.path, message: ledger.problem });
  }
}

function valuesOf(row: PhraseTableRow): ResultCell[] {
  return phraseColumns.map(({ name }) => {
    const cell = row[name];
    return typeof cell === "boolean" ? Number(cell) : cell;
  });
}

/** Tables a statement may read: ours, those it makes itself in WITH and FROM, and JSON taken apart. */
const hidden = /^(sqlite_|pragma_|dbstat|bytecode|tables_used)/i;
const refusedFunctions = /^(load_extension|fts\d?|readfile|writefile|edit)$/i;

function closeAllButReading({ capi }: Sqlite3Static, database: Database): void {
  const decide = (what: number, first: string | null, second: string | null): number => {
    switch (what) {
      case capi.SQLITE_SELECT:
      case capi.SQLITE_RECURSIVE:
        return capi.SQLITE_OK;
      case capi.SQLITE_READ:
        return hidden.test(first ?? "") ? capi.SQLITE_DENY : capi.SQLITE_OK;
      case capi.SQLITE_FUNCTION:
        return refusedFunctions.test(second ?? "") ? capi.SQLITE_DENY : capi.SQLITE_OK;
      default:
        return capi.SQLITE_DENY;
    }
  };
  capi.sqlite3_set_authorizer(
    database,
    (_: unknown, what: number, first: string | 0, second: string | 0) =>
      decide(what, first === 0 ? null : first, second === 0 ? null : second),
    0,
  );
}

type Found = Omit<QueryAnswer, "phrases" | "leftOut">;

function ask(
  sqlite: Sqlite3Static,
  database: Database,
  sql: string,
  mostRows: number,
): Result<Found, string> {
  const more = statementsIn(sqlite, database, sql);
  if (!more.ok) return more;
  try {
    const statement = database.prepare(sql);
    try {
      if (statement.columnCount === 0) return failure(onlyOneSelect);
      const columns = statement.getColumnNames();
      const rows: ResultCell[][] = [];
      let text = 0;
      while (statement.step()) {
        if (rows.length === mostRows) return success({ columns, rows, cut: true });
        const row = statement.get([]).map(cellOf);
        for (const cell of row) text += typeof cell === "string" ? cell.length : 8;
        if (text > mostText) return success({ columns, rows, cut: true });
        rows.push(row);
      }
      return success({ columns, rows, cut: false });
    } finally {
      statement.finalize();
    }
  } catch (error) {
    return failure(reasonOf(error));
  }
}

const onlyOneSelect = "a query is one SELECT that reads the table phrases, and nothing else";

/** SQLite prepares the first statement of a text and leaves the rest: a second one is found by preparing what is left. */
function statementsIn({ capi, wasm }: Sqlite3Static, database: Database, sql: string): Result<null, string> {
  if (sql.includes("\u0000")) return failure("the query holds a character that SQL doesn't know (NUL)");
  const scope = wasm.scopedAllocPush();
  try {
    const [text, length] = wasm.scopedAllocCString(sql, true);
    const [statement, tail] = wasm.scopedAllocPtr(2) as unknown as [number, number];
    let from = text;
    let found = 0;
    while (from < text + length) {
      const code = capi.sqlite3_prepare_v3(database, from, -1, 0, statement, tail);
      const made = wasm.peekPtr(statement);
      if (made !== 0) {
        found++;
        const readOnly = capi.sqlite3_stmt_readonly(made);
        capi.sqlite3_finalize(made);
        if (!readOnly) return failure(onlyOneSelect);
      }
      if (code !== 0) {
        if (found > 0) return failure(onlyOneSelect);
        return failure(reasonOf(new Error(capi.sqlite3_errmsg(database))));
      }
      const next = wasm.peekPtr(tail);
      if (next <= from) break;
      from = next;
    }
    return found === 1 ? success(null) : failure(found === 0 ? "the query is empty" : onlyOneSelect);
  } finally {
    wasm.scopedAllocPop(scope);
  }
}

function cellOf(value: unknown): ResultCell {
  if (typeof value === "bigint") return Number.isSafeInteger(Number(value)) ? Number(value) : String(value);
  if (value instanceof Uint8Array) return `${value.length} bytes`;
  return typeof value === "string" || typeof value === "number" ? value : null;
}

/** SQLite's own words, without the name of its error code; what is not allowed in ours. */
function reasonOf(error: unknown): string {
  const said = (error instanceof Error ? error.message : String(error)).replace(
    /^SQLITE_\w+: sqlite3 result code \d+: /,
    "",
  );
  if (/not authorized|prohibited/.test(said)) return `${onlyOneSelect} (${said})`;
  if (/out of memory/.test(said)) return "the query needs too much memory; ask for less, or of fewer bouts";
  return said;
}
