// `boutline query`: one question in SQL about the phrases of many bouts.

import path from "node:path";
import { phraseColumns, phraseTableVersion } from "../figures";
import { namedBouts } from "../shelf/bouts";
import { csvField } from "../shelf/csv";
import { findBoutFiles } from "../shelf/find";
import { queryPhrases, usualLimits, type QueryAnswer } from "../shelf/query";
import { plain, table } from "./lines";
import { Unusable, wordsOf, type Verb } from "./verb";

const columnLines = table(
  phraseColumns.map(({ name, type, unit, means }) => [
    `  ${name}`,
    unit === undefined ? type : `${type}, ${unit}`,
    means,
  ]),
).join("\n");

const help = `boutline query "SELECT ..." FILE|FOLDER... [OPTIONS]

Asks the table phrases, one row a phrase of the bout files, those in folders
included, with one SELECT in the SQL of SQLite. Nothing can be written or opened by
it. For example, how often each opening brings a touch:

  boutline query "select opener, count(*) as phrases, sum(award = opener) as touches
    from phrases group by opener" season/

  --json       { "query": 1, columns, rows, cut, phrases } for other programs; cut
               says that there were more rows
  --csv        comma-separated text
  --rows N     most rows (${usualLimits.mostRows})
  --seconds N  longest time for the question (${usualLimits.seconds})

The columns, version ${phraseTableVersion}; truth is 1 or 0, date is text, YYYY-MM-DD:

${columnLines}
`;

export const query: Verb = {
  help,
  run: async (words, { out, errors }) => {
    const { values, positionals } = wordsOf(words, {
      ...{ json: { type: "boolean" }, csv: { type: "boolean" } },
      ...{ rows: { type: "string" }, seconds: { type: "string" } },
    } as const);
    const [sql, ...places] = positionals;
    if (sql === undefined || places.length === 0)
      throw new Unusable("write the query, then at least one bout file or folder");
    if (values.json === true && values.csv === true) throw new Unusable("take --json or --csv, not both");
    const limits = {
      mostRows: wholeNumber("rows", values.rows, usualLimits.mostRows, 1_000_000),
      seconds: wholeNumber("seconds", values.seconds, usualLimits.seconds, 3600),
    };
    const complain = (message: string) => errors(plain(`boutline query: ${message}`) + "\n");
    const { files, leftOut } = await findBoutFiles(places);
    for (const { file, message } of leftOut) complain(`${file}: ${message}`);
    if (files.length === 0) {
      complain("there is no bout file to ask");
      return 2;
    }
    const worker = path.join(__dirname, "query-worker.js");
    const bouts = namedBouts(files.map(({ file }) => file));
    const answer = await queryPhrases(worker, sql, bouts, limits);
    if (!answer.ok) {
      complain(answer.problem);
      return 2;
    }
    for (const { file, message } of answer.value.leftOut) complain(`${file}: ${message}`);
    if (answer.value.cut) complain(`there are more rows; these are the first ${answer.value.rows.length}`);
    if (values.json === true) out(jsonText(answer.value));
    else if (values.csv === true) out(csvText(answer.value));
    else out(plainText(answer.value));
    return leftOut.length + answer.value.leftOut.length > 0 ? 1 : 0;
  },
};

function jsonText({ columns, rows, cut, phrases }: QueryAnswer): string {
  return `${JSON.stringify({ query: 1, columns, rows, cut, phrases })}\n`;
}

function csvText({ columns, rows }: QueryAnswer): string {
  return [columns, ...rows].map((row) => row.map(csvField).join(",") + "\r\n").join("");
}

function plainText({ columns, rows }: QueryAnswer): string {
  const cells = rows.map((row) => row.map((cell) => (cell === null ? "" : plain(String(cell)))));
  return table([columns.map(plain), ...cells])
    .map((line) => `${line}\n`)
    .join("");
}

function wholeNumber(option: string, written: string | undefined, usual: number, most: number): number {
  if (written === undefined) return usual;
  const value = Number(written);
  if (!/^\d+$/.test(written) || value < 1 || value > most)
    throw new Unusable(`--${option} takes a whole number from 1 to ${most}`);
  return value;
}
