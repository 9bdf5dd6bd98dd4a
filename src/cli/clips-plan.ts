// The plan of a bout file's picked phrases, with what is known of whether its recording is still the one that was tagged.

import { createHash } from "node:crypto";
import path from "node:path";
import { pickedPhrases, type Pick } from "../figures";
import { studyOfFile } from "../shelf/study";
import { readText } from "../shelf/text";
import { phraseClips, signsOfChange, type ClipPlan, type ClipWishes } from "../video/clips";
import { frameTable, type MakeOptions } from "../video/index";
import { recordingBeside } from "./recording";
import { Unusable } from "./verb";

export interface BoutPlan {
  readonly plan: readonly ClipPlan[];
  /** What the user should know before looking at the clips. */
  readonly notes: readonly string[];
}

export interface Before {
  /** Where the clips go: some may have been cut there before. */
  readonly out: string;
  /** Cuts out of a recording that has changed since. */
  readonly goOn: boolean;
}

/** The clips of one bout file. Throws `Unusable` with what is wrong. */
export async function planOf(
  file: string,
  pick: Pick,
  wishes: ClipWishes,
  before: Before,
  making: MakeOptions,
): Promise<BoutPlan> {
  const text = await readText(file);
  if (!text.ok) throw new Unusable(`${file}: ${text.problem}`);
  const { study } = await studyOfFile(file, text.value);
  if (study === undefined)
    throw new Unusable(`${file} can't be read as a bout file; boutline check says why`);
  const { ledger } = study;
  const { entries, lost } = pickedPhrases(ledger, pick);
  const [gone] = lost;
  if (gone !== undefined)
    throw new Unusable(
      `${file}: ${lost.length} of the phrases picked by hand ${lost.length === 1 ? "is" : "are"} not there any more, the first at ${gone.at}; the bout file was changed since. Pick again`,
    );
  if (entries.length === 0) return { plan: [], notes: [] };
  const recording = ledger.bout.recordings[wishes.recording];
  if (recording === undefined) throw new Unusable(`${file} names no recording ${wishes.recording + 1}`);
  const source = recordingBeside(file, recording.file);
  if (!source.ok) throw new Unusable(`${file}: ${source.problem}`);
  const frames = await frameTable(source.value, making);
  if (!frames.ok) throw new Unusable(frames.problem.message);
  const { times } = frames.value;
  const last = times.at(-1) ?? 0;
  const bout = {
    name: path.basename(file),
    hash: createHash("sha256").update(text.value).digest("hex"),
    ...{ ledger, entries, source: source.value, length: last },
  };
  const plan = phraseClips(bout, wishes);
  if (!plan.ok) throw new Unusable(plan.problem);
  const folders = [before.out, path.dirname(file)];
  const { doubts, changed } = await signsOfChange(bout, wishes.recording, times, folders);
  if (changed === undefined) return { plan: plan.value, notes: doubts };
  if (!before.goOn) throw new Unusable(`${changed}; --changed cuts out of the new one`);
  return { plan: plan.value, notes: [...doubts, `${changed}.`] };
}
