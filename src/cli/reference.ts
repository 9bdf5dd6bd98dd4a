// `boutline reference`: what a panel of three or more holds becomes what counts as right for a seminar pack, and, where
// asked for, is written into the bout files as their phrases' `reference`.

import { rename, rm, writeFile } from "node:fs/promises";
import path from "node:path";
import { editBout, type Json } from "../bout/edit";
import { failure, success, type Result } from "../bout/result";
import type { SeminarKey } from "../figures/seminar-format";
import { readKey, rolesOf } from "../figures/seminar-reading";
import { smallestPanel, withPanel } from "../figures/seminar-reference";
import { entryOf } from "../figures/written-evidence";
import { readText } from "../shelf/text";
import { plain } from "./lines";
import { studyOfFile } from "../shelf/study";
import { Unusable, wordsOf, type Status, type Verb } from "./verb";

const help = `boutline reference KEY ANSWERS... [--into BOUT]...

Takes the answers of three or more people of a panel, each given apart on the page
of the pack as "one of the panel", and writes them into the key. Where all agree,
in every part, that is what counts as right; a clip they do not agree on is "for
discussion" and not scored. A clip and its repeat count as one.

  --into BOUT   writes what each role holds into this bout file too, as the
                phrases' reference; may be given several times
`;

export const reference: Verb = {
  help,
  run: async (words, { out, errors }) => {
    const { values, positionals } = wordsOf(words, { into: { type: "string", multiple: true } } as const);
    const [keyFile, ...files] = positionals;
    if (keyFile === undefined || files.length < smallestPanel)
      throw new Unusable(`name the key and the answers of at least ${smallestPanel} people of the panel`);
    const complain = (message: string): Status => {
      errors(plain(`boutline reference: ${message}`) + "\n");
      return 2;
    };
    const text = await readText(keyFile);
    if (!text.ok) return complain(`${keyFile}: ${text.problem}`);
    const key = readKey(text.value);
    if (!key.ok) return complain(`${keyFile}: ${key.problem.message}`);
    const answers: { name: string; text: string }[] = [];
    for (const name of files) {
      const read = await readText(name);
      if (!read.ok) return complain(`${name}: ${read.problem}`);
      answers.push({ name, text: read.value });
    }
    const { answers: roles, refused } = rolesOf(key.value, answers);
    // Half a panel would make another reference, without anybody having meant it.
    for (const { name, problem } of refused) complain(`${name}: ${problem.message}`);
    if (refused.length > 0) return complain("nothing was changed");
    const made = withPanel(key.value, roles);

    const bouts: { file: string; text: string; phrases: number }[] = [];
    for (const file of values.into ?? []) {
      const edited = await withReference(file, made);
      if (!edited.ok) return complain(edited.problem);
      bouts.push({ file, ...edited.value });
    }
    await writeOver(keyFile, JSON.stringify(made, undefined, 2) + "\n");
    for (const { file, text: edited } of bouts) await writeOver(file, edited);

    const open = made.clips.filter(({ standing }) => standing === "for discussion");
    out(
      plain(`${made.clips.length - open.length} clips are scored, ${open.length} are for discussion.`) + "\n",
    );
    for (const { id, source } of open)
      out(plain(`  ${id}: ${source.bout}, the phrase at ${source.phrase.at}`) + "\n");
    for (const { file, phrases } of bouts)
      out(plain(`${file}: reference written for ${phrases} phrases`) + "\n");
    return 0;
  },
};

/** The bout file's text with what the panel holds, by the smallest edits; a phrase that is not there any more is refused. */
async function withReference(
  file: string,
  key: SeminarKey,
): Promise<Result<{ readonly text: string; readonly phrases: number }, string>> {
  const clips = key.clips.filter(
    ({ source, repeats, paper, panel }) =>
      source.bout === path.basename(file) && repeats === null && paper === "referee" && panel.length > 0,
  );
  if (clips.length === 0)
    return failure(`${file}: no clip of the key that the panel answered is from this bout file`);
  const read = await readText(file);
  if (!read.ok) return failure(`${file}: ${read.problem}`);
  const { reading, study } = await studyOfFile(file, read.value);
  if (study === undefined) return failure(`${file} can't be read as a bout file`);
  let { scan } = reading;
  for (const { source, panel } of clips) {
    // No edit here moves an entry, so places found before it hold after it.
    const index = entryOf(study.ledger, source.phrase);
    if (index === undefined)
      return failure(`${file}: the phrase at ${source.phrase.at} is not there any more; nothing was changed`);
    const value: Json = panel.map(({ by, answer }) => ({
      by,
      ...(answer.actions === null ? {} : { actions: answer.actions }),
      ...(answer.award === null ? {} : { award: answer.award }),
    }));
    const edited = editBout(scan, { do: "change", index, fields: [{ path: ["reference"], value }] });
    if (!edited.ok) return failure(`${file}: ${edited.problem.message}`);
    ({ scan } = edited.value);
  }
  return success({ text: scan.text, phrases: clips.length });
}

/** Whole or not at all; the file's bytes before it are there until the new ones are. */
async function writeOver(file: string, text: string): Promise<void> {
  const part = `${file}.${process.pid}.part`;
  try {
    await writeFile(part, text, { flag: "wx" });
    await rename(part, file);
  } finally {
    await rm(part, { force: true });
  }
}
