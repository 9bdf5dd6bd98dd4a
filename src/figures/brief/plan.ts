// Room for three things to do, each tied to phrases to look at first.

import type { BriefComparisons } from "./comparing";
import type { OwnBout } from "./fencers";
import type { BriefEvidence } from "./pooling";
import type { Sentence } from "./sentences";
import { timeOf } from "../../bout/written";

export interface PlanSpace {
  /** What the phrases show: a sentence of the brief, or a question it could not answer. */
  readonly about: string;
  /** Whether that passed its test. */
  readonly shown: boolean;
  readonly evidence: BriefEvidence;
  /** Some of the evidence to look up by hand, from as many bouts as there are. `at` in milliseconds of the recording. */
  readonly phrases: readonly { readonly file: string; readonly entry: number; readonly at: number }[];
}

const spaces = 3;
const listed = 6;

/** What passed comes first; after it the comparisons that came nearest to it. */
export function planOf(
  sentences: readonly Sentence[],
  { list }: BriefComparisons,
  bouts: readonly OwnBout[],
): readonly PlanSpace[] {
  const told = sentences
    .filter(({ adjusted }) => adjusted !== null)
    .map(({ says, evidence }) => ({ about: says, shown: true, evidence }));
  const open = list
    .filter(({ passes }) => !passes)
    .sort((one, other) => one.p - other.p)
    .map(({ question, first }) => ({ about: question, shown: false, evidence: first.evidence }));
  return [...told, ...open]
    .slice(0, spaces)
    .map((space) => ({ ...space, phrases: some(space.evidence, bouts) }));
}

/** The first of each bout, then the second of each, and so on. */
function some(evidence: BriefEvidence, bouts: readonly OwnBout[]): PlanSpace["phrases"] {
  const longest = Math.max(0, ...evidence.map(({ entries }) => entries.length));
  const found: { readonly file: string; readonly entry: number; readonly at: number }[] = [];
  for (let round = 0; round < longest && found.length < listed; round++)
    for (const { file, entries } of evidence) {
      const entry = entries[round];
      const row = bouts.find((bout) => bout.file === file)?.ledger.byEntry[entry ?? -1];
      if (entry !== undefined && row !== undefined && found.length < listed)
        found.push({ file, entry, at: timeOf(row.entry) });
    }
  return found;
}
