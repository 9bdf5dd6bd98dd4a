// A bout file's text, read and counted by its edition: one of Boutline's, or the one in a file beside it.

import path from "node:path";
import { readBout, type Reading } from "../bout/read";
import { editionFileOf, studyOf, type EditionFile, type Study } from "../rules";
import { readText } from "./text";

export interface ReadFile {
  readonly reading: Reading;
  /** Undefined where the text holds no bout. */
  readonly study: Study | undefined;
}

export async function studyOfFile(file: string, text: string): Promise<ReadFile> {
  const reading = readBout(text);
  const name = reading.bout === undefined ? undefined : editionFileOf(reading.bout);
  const own = name === undefined ? undefined : await editionBeside(file, name);
  return { reading, study: studyOf(reading, own) };
}

/** Undefined where there is none, or none that can be read; the bout's rules then name no edition. */
async function editionBeside(boutFile: string, name: string): Promise<EditionFile | undefined> {
  const text = await readText(path.join(path.dirname(boutFile), name));
  return text.ok ? { file: name, text: text.value } : undefined;
}
