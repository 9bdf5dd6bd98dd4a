// `boutline sheet`: the figures of one bout, for a person or for another program; beside a second file what differs
// between two bouts, or how far two taggers of one bout agree.

import { againstOf, figuresOf, sheetOf, tablesOf } from "../figures";
import type { Study } from "../rules";
import { placesIn, statusOf } from "./check";
import { readText } from "../shelf/text";
import { plain } from "./lines";
import { againstLines, againstTables, relationNamed } from "./sheet-against";
import { tableFiles, tagDefinitionsFor, writeFiles } from "./sheet-files";
import { figureLines } from "./sheet-figures";
import { sheetLines } from "./sheet-lines";
import { chartTexts, pageText } from "./sheet-pages";
import { studyOfFile } from "../shelf/study";
import { Unusable, wordsOf, type Verb } from "./verb";

const help = `boutline sheet FILE [--html OUT] [--svg DIR] [--csv DIR] [--force]
                    [--against FILE2 [--as taggers|bouts]] [--json]

Prints the figures of one bout with 95 % limits, and the findings about it. What
your own tags mean is read from tags.json beside FILE: { "word": "meaning" }.

  --against FILE2   compares with a second file: how far two taggers agree where
                    both tell of the same bout, else what differs between two bouts
  --as taggers      takes them for one bout tagged twice
  --as bouts        takes them for two bouts
  --html OUT        writes the study sheet as one HTML file, to read and to print
  --svg DIR         writes each chart as a picture into DIR
  --csv DIR         writes one file a table into DIR
  --force           files of these names are written over
  --json            the same for other programs
`;

export const sheet: Verb = {
  help,
  run: async (words, { out, errors }) => {
    const { values, positionals } = wordsOf(words, {
      json: { type: "boolean" },
      csv: { type: "string" },
      html: { type: "string" },
      svg: { type: "string" },
      force: { type: "boolean" },
      against: { type: "string" },
      as: { type: "string" },
    });
    const [file, ...others] = positionals;
    if (file === undefined || others.length > 0) throw new Unusable("name one bout file");
    const as = relationNamed(values.as);
    if (as !== undefined && values.against === undefined) throw new Unusable("--as needs --against FILE2");
    const written = [values.csv, values.html, values.svg];
    if (values.force === true && written.every((place) => place === undefined))
      throw new Unusable("--force needs --html OUT, --svg DIR or --csv DIR");

    const one = await readStudy(file, errors);
    const other = values.against === undefined ? undefined : await readStudy(values.against, errors);
    const definitions = await tagDefinitionsFor(file);
    if (!definitions.ok) errors(plain(`boutline sheet: ${definitions.problem}`) + "\n");
    if (one === undefined || (values.against !== undefined && other === undefined) || !definitions.ok)
      return 2;

    const { ledger, findings, bout } = one.study;
    const study = sheetOf(ledger, findings);
    const { sheet } = study;
    const figures = figuresOf(ledger, definitions.value);
    const against = other === undefined ? undefined : againstOf(one.study, other.study, as);
    const files = [
      ...(values.csv === undefined
        ? []
        : tableFiles(values.csv, [
            ...tablesOf(figures, ledger),
            ...(against === undefined ? [] : againstTables(against)),
          ])),
      ...(values.html === undefined
        ? []
        : [{ file: values.html, text: await pageText(study, ledger, figures) }]),
      ...(values.svg === undefined ? [] : await chartTexts(values.svg, study, ledger, figures)),
    ];
    const kept = await writeFiles(files, values.force === true);
    if (!kept.ok) {
      errors(plain(`boutline sheet: ${kept.problem}`) + "\n");
      return 2;
    }
    if (values.json === true)
      out(JSON.stringify({ ...sheet, figures, ...(against && { against }) }, undefined, 2) + "\n");
    else {
      const lines = sheetLines(sheet, bout, placesIn(one.text, one.study), figureLines(figures, ledger));
      const beside = against === undefined ? [] : ["", ...againstLines(against).map(plain)];
      for (const line of [...lines, ...beside]) out(line + "\n");
    }
    return statusOf([...findings, ...(other?.study.findings ?? [])]);
  },
};

interface Read {
  readonly text: string;
  readonly study: Study;
}

/** Undefined, with the reasons on the error stream, where the file can't be read as a bout. */
async function readStudy(file: string, errors: (text: string) => void): Promise<Read | undefined> {
  const text = await readText(file);
  if (!text.ok) {
    errors(plain(`boutline sheet: ${file}: ${text.problem}`) + "\n");
    return undefined;
  }
  const { reading, study } = await studyOfFile(file, text.value);
  if (study === undefined || reading.scan.broken) {
    // Figures of half a file would be wrong without looking so.
    for (const { severity, message, place } of reading.problems)
      if (severity === "error") errors(plain(`${file}:${place.line}:${place.column}: ${message}`) + "\n");
    errors(plain(`boutline sheet: ${file} can't be read as a bout file`) + "\n");
    return undefined;
  }
  return { text: text.value, study };
}
