// `boutline sheet`: the figures of one bout, for a person or for another program.

import { readBout } from "../bout/read";
import { sheetOf } from "../figures";
import { studyOf } from "../rules";
import { placesIn, statusOf } from "./check";
import { readText } from "./files";
import { plain } from "./lines";
import { sheetLines } from "./sheet-lines";
import { Unusable, wordsOf, type Verb } from "./verb";

const help = `boutline sheet FILE [--json]

Prints the figures of one bout with 95 % limits, and the findings about it.

  --json   the same for other programs
`;

export const sheet: Verb = {
  help,
  run: async (words, { out, errors }) => {
    const { values, positionals } = wordsOf(words, { json: { type: "boolean" } });
    const [file, ...others] = positionals;
    if (file === undefined || others.length > 0) throw new Unusable("name one bout file");
    const text = await readText(file);
    if (!text.ok) {
      errors(plain(`boutline sheet: ${file}: ${text.problem}`) + "\n");
      return 2;
    }
    const reading = readBout(text.value);
    const study = studyOf(reading);
    if (study === undefined || reading.scan.broken) {
      // Figures of half a file would be wrong without looking so.
      for (const { severity, message, place } of reading.problems)
        if (severity === "error") errors(plain(`${file}:${place.line}:${place.column}: ${message}`) + "\n");
      errors(plain(`boutline sheet: ${file} can't be read as a bout file`) + "\n");
      return 2;
    }
    const { sheet } = sheetOf(study.ledger, study.findings);
    if (values.json === true) out(JSON.stringify(sheet, undefined, 2) + "\n");
    else for (const line of sheetLines(sheet, study.bout, placesIn(text.value, study))) out(line + "\n");
    return statusOf(study.findings);
  },
};
