// `boutline check`: what in bout files contradicts itself, the rules or the evidence; one line a finding.

import { placer } from "../bout/scan";
import { textFindings, type Finding, type Study } from "../rules";
import { readText } from "../shelf/text";
import { plain } from "./lines";
import { studyOfFile } from "../shelf/study";
import { Unusable, wordsOf, type Status, type Verb } from "./verb";

const help = `boutline check FILE... [--json]

Reads bout files and prints what contradicts itself, the rules or the evidence,
one finding a line: file:line:column: severity rule message [page], where page is
the file in media/rules that explains the rule. Rules of your own are looked for
beside the bout file, in NAME.edition.json where the bout's rules are NAME.

  --json   a list of { file, findings } for other programs
`;

export const check: Verb = {
  help,
  run: async (words, { out, errors }) => {
    const { values, positionals: files } = wordsOf(words, { json: { type: "boolean" } });
    if (files.length === 0) throw new Unusable("name at least one bout file");
    const checked: Checked[] = [];
    let unread = false;
    for (const file of files) {
      const text = await readText(file);
      if (text.ok) checked.push(await checkedFile(file, text.value));
      else errors(plain(`boutline check: ${file}: ${text.problem}`) + "\n");
      unread ||= !text.ok;
    }
    if (unread) return 2;
    if (values.json === true)
      out(
        JSON.stringify(
          checked.map(({ file, findings }) => ({ file, findings })),
          undefined,
          2,
        ) + "\n",
      );
    else for (const line of checked.flatMap(linesOf)) out(line + "\n");
    return statusOf(checked.flatMap(({ findings }) => findings));
  },
};

interface Checked {
  readonly file: string;
  readonly findings: readonly Finding[];
  readonly placeOf: (finding: Finding) => PlaceInText;
}

export interface PlaceInText {
  readonly line: number;
  readonly column: number;
}

async function checkedFile(file: string, text: string): Promise<Checked> {
  const { reading, study } = await studyOfFile(file, text);
  return { file, findings: study?.findings ?? textFindings(reading), placeOf: placesIn(text, study) };
}

/** Where in the text each finding stands, whichever way it is named. */
export function placesIn(text: string, study: Study | undefined): (finding: Finding) => PlaceInText {
  const place = placer(text);
  return ({ entry, line, column }) => {
    const record = entry === undefined ? undefined : study?.ledger.byEntry[entry]?.record;
    return record === undefined
      ? { line: line ?? 1, column: column ?? 1 }
      : place(record.offset, record.length);
  };
}

function linesOf({ file, findings, placeOf }: Checked): string[] {
  return findings.map((finding) => {
    const { line, column } = placeOf(finding);
    return plain(
      `${file}:${line}:${column}: ${finding.severity} ${finding.rule} ${finding.message} [${finding.page}]`,
    );
  });
}

export function statusOf(findings: readonly Finding[]): Status {
  return findings.some(({ severity }) => severity !== "note") ? 1 : 0;
}
