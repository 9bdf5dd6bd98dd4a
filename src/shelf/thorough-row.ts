// The row of any text at all, with what is wrong in it.

import { readBout } from "../bout/read";
import type { Problem } from "../bout/result";
import { editionFileOf, studyOf } from "../rules";
import type { BoutFile } from "./find";
import { rowOfBout, type FileText, type ShelfRow, type Surroundings } from "./row";

export function thoroughRow(about: BoutFile, { text, sum }: FileText, around: Surroundings): ShelfRow {
  const { file, size, modified } = about;
  const reading = readBout(text);
  const { bout } = reading;
  const name = bout === undefined ? undefined : editionFileOf(bout);
  const own = name === undefined ? undefined : around.edition(name);
  const study = studyOf(reading, own?.file);
  if (study === undefined) return { is: "unreadable", file, size, modified, ...whyNot(reading.problems) };
  return rowOfBout(about, sum, study, around, own?.state);
}

function whyNot(problems: readonly Problem[]): { readonly problem: string; readonly line?: number } {
  const first = problems.find(({ severity }) => severity === "error") ?? problems[0];
  return first === undefined
    ? { problem: "this holds no bout" }
    : { problem: first.message, line: first.place.line };
}
