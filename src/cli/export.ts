// `boutline export`: bouts as tables and subtitles for other people's tools.

import { untilInterrupted } from "./interrupt";
import { pickOf, pickOptions } from "./pick-options";
import type { Streams, Verb } from "./verb";
import { Unusable, wordsOf, type Status } from "./verb";
import { plain } from "./lines";
import { namedBouts } from "../shelf/bouts";
import { exportBouts, exportFormats, type ExportFormat, type ExportOptions } from "../shelf/export";
import { findBoutFiles } from "../shelf/find";
import { defaultKeyFile, keyIn, pseudonymsBy } from "../shelf/pseudonyms";

const help = `boutline export FILE|FOLDER... --out DIR [OPTIONS]

Writes one row a phrase of the bout files, those in folders included:

  csv       DIR/phrases.csv
  jsonl     DIR/phrases.jsonl
  parquet   DIR/phrases/season=YYYY/weapon=W/part-0.parquet, one table for
            engines that read many files
  vtt, srt  DIR/calls/BOUT.vtt, .srt: the calls as subtitles of the recording

with DIR/columns.md, which says what every column means, and DIR/CONTENTS.md, which
says what the folder holds. Files that can't be read are named; the rest goes on.

  --format F,...   one or more of the above (csv)
  --fencer ID, --actions, --families, --award, --opener, ...
                   only the phrases picked, with the options of boutline clips
  --pseudonyms     codes in the place of ids, events, bouts and file names; titles,
                   notes, tags and taggers are left out
  --key FILE       the key the codes are made with, made where there is none; it must
                   lie outside DIR (${shortHome(defaultKeyFile())})
  --force          write over an export that is there already

A full disk or Ctrl-C leaves what was there before.

Exit status: 0 done; 1 done, with files left out; 2 unusable input or options.
`;

export const exportVerb: Verb = {
  help,
  run: async (words, streams) => {
    const { values, positionals } = wordsOf(words, {
      ...{ out: { type: "string" }, format: { type: "string", multiple: true } },
      ...{ pseudonyms: { type: "boolean" }, key: { type: "string" }, force: { type: "boolean" } },
      ...ownPick,
    } as const);
    if (positionals.length === 0) throw new Unusable("name at least one bout file or folder");
    if (values.out === undefined || values.out === "") throw new Unusable("say where to, with --out DIR");
    if (values.key !== undefined && values.pseudonyms !== true)
      throw new Unusable("--key goes with --pseudonyms");
    const complain = (message: string) => streams.errors(plain(`boutline export: ${message}`) + "\n");
    const formats = formatsOf(values.format);
    const given = pickOf(values);
    const pick = Object.keys(given).length === 0 ? undefined : given;
    const key = values.pseudonyms === true ? keyIn(values.key ?? defaultKeyFile(), values.out) : undefined;
    if (key?.ok === false) {
      complain(key.problem);
      return 2;
    }
    const pseudonyms = key === undefined ? undefined : pseudonymsBy(key.value);
    return exportAll(
      positionals,
      { folder: values.out, formats, force: values.force === true, pseudonyms, pick },
      streams,
      complain,
    );
  },
};

/** Without saved picks, which are told by a name beside one bout file. */
const { pick: _, ...ownPick } = pickOptions;

async function exportAll(
  words: readonly string[],
  options: ExportOptions,
  { out }: Streams,
  complain: (message: string) => void,
): Promise<Status> {
  const { files, leftOut } = await findBoutFiles(words);
  for (const { file, message } of leftOut) complain(`${file}: ${message}`);
  if (files.length === 0) {
    complain("there is no bout file to export");
    return 2;
  }
  const bouts = namedBouts(files.map(({ file }) => file));
  return untilInterrupted(async (signal) => {
    const exported = await exportBouts(bouts, { ...options, signal }, leftOut.length);
    if (!exported.ok) {
      complain(exported.problem);
      return 2;
    }
    const { bouts: read, phrases, leftOut: unread, items } = exported.value;
    for (const { file, message } of unread) complain(`${file}: ${message}`);
    out(
      plain(
        `${read} ${read === 1 ? "bout" : "bouts"}, ${phrases} phrases: ${items.join(", ")} in ${options.folder}`,
      ) + "\n",
    );
    return leftOut.length + unread.length > 0 ? 1 : 0;
  });
}

function formatsOf(written: readonly string[] | undefined): readonly ExportFormat[] {
  const words = (written ?? ["csv"]).flatMap((list) => list.split(",")).map((word) => word.trim());
  return words.map((word) => {
    const known = exportFormats.find((format) => format === word);
    if (known === undefined)
      throw new Unusable(`there is no format "${word}"; the formats are ${exportFormats.join(", ")}`);
    return known;
  });
}

function shortHome(file: string): string {
  const home = process.env["HOME"];
  return home !== undefined && home !== "" && file.startsWith(home) ? `~${file.slice(home.length)}` : file;
}
