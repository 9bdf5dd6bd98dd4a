// The two pages that go with an export: what every column means, and what the folder holds.

import { caution, phraseColumns, phraseTableRules, phraseTableVersion } from "../figures";
import { csvReadBack } from "./csv";

/** Markdown, from the catalogue of columns. */
export function columnsPage(): string {
  const rows = phraseColumns.map(
    ({ name, type, unit, means, always }) =>
      `| \`${name}\` | ${type} | ${unit ?? ""} | ${always === true ? "no" : "yes"} | ${means} |`,
  );
  return `# Columns of the phrase table, version ${phraseTableVersion}

The version is raised when a column changes its meaning, not when one is added.

${phraseTableRules.map((rule) => `- ${rule}`).join("\n")}

| column | type | unit | may be empty | what it means |
| --- | --- | --- | --- | --- |
${rows.join("\n")}

Types: text is UTF-8; integer is a whole number; number is a decimal number, unrounded; date is YYYY-MM-DD; truth is true
or false (1 or 0 in a query).

## How it is written

- **CSV** (\`phrases.csv\`): RFC 4180, UTF-8, the first line holds the names. Text that a spreadsheet would take for a
  formula (it begins with \`=\`, \`+\`, \`-\`, \`@\`, a tab or a line break, or with their wide forms) has an apostrophe in
  front. Numbers are never changed. Where you read the file into another program, take the apostrophe away again: for a
  text column \`c\`,
  \`${csvReadBack}\`
  gives back what the bout file says, also where a text began with an apostrophe itself. An empty cell is empty, an empty
  text is \`""\`.
- **JSON Lines** (\`phrases.jsonl\`): one object a line, empty cells as null, text exactly as it is.
- **Parquet** (\`phrases/season=YYYY/weapon=W/part-0.parquet\`): typed, text exactly as it is. A season goes from September
  to August, as in the rule book, and is named by the year in which it began; bouts without a date are in
  \`season=__HIVE_DEFAULT_PARTITION__\`, which engines read as an empty season. The whole folder is one table.
- **WebVTT and SubRip** (\`calls/BOUT.vtt\`, \`.srt\`): the call of each phrase with the score after it, in the time of the
  bout's first recording.
`;
}

export interface Contents {
  readonly bouts: number;
  readonly phrases: number;
  /** Files left out. */
  readonly leftOut: number;
  readonly pseudonyms: boolean;
  readonly items: readonly string[];
}

/** Markdown. */
export function contentsPage({ bouts, phrases, leftOut, pseudonyms, items }: Contents): string {
  const privacy = pseudonyms
    ? `This export has **codes in the place of** fencers' ids, events, bouts and file names. Names and clubs are in no column;
titles, notes, tags and who tagged are left out, and so are words for a target that are not a plain place on the body.

Codes are **not anonymity**: dates, weapons, scores and the course of the bouts are here, and somebody who was there may
know a bout by them. The key file is not in this folder; keep it to yourself, and never beside this folder.`
    : `This export **names people and events as the bout files do**: ids of fencers, events, names of files, tags. Tags are the
coach's own words and may say things about a person. \`--pseudonyms\` puts codes in their place.`;
  return `# What this folder holds

${bouts} ${bouts === 1 ? "bout" : "bouts"}, ${phrases} phrases, exported by Boutline.${
    leftOut === 0
      ? ""
      : ` ${leftOut} ${leftOut === 1 ? "file" : "files"} could not be read and ${leftOut === 1 ? "is" : "are"} missing.`
  }

${items.map((item) => `- \`${item}\``).join("\n")}

What the columns mean stands in \`columns.md\`.

## Before you hand it on

${privacy}

${caution.map((line) => `- ${line}`).join("\n")}
`;
}
