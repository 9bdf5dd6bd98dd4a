// What a coach could say aloud: at most five sentences, each of them a difference that passed its test among all that
// were tried, or that there is none.

import { counted } from "../comparing";
import type { BriefComparison, BriefComparisons } from "./comparing";
import type { BriefEvidence } from "./pooling";

export interface Sentence {
  readonly key: string;
  /** The whole: what it says and what was seen. */
  readonly text: string;
  /** Said aloud, without the full stop. */
  readonly says: string;
  /** The counts behind it; null of the sentence that says that nothing was shown. */
  readonly seen: string | null;
  /** After Holm; null of the sentence that says that nothing was shown. */
  readonly adjusted: number | null;
  readonly evidence: BriefEvidence;
}

const most = 5;

export function sentencesOf({ list, tried }: BriefComparisons, bouts: number): readonly Sentence[] {
  const told: BriefComparison[] = [];
  for (const one of list.filter(({ passes }) => passes).sort((a, b) => a.adjusted - b.adjusted || a.p - b.p))
    if (told.length < most && !told.some((other) => saysTheSame(one, other))) told.push(one);
  if (told.length === 0) return [nothingShown(nothing(bouts, tried))];
  return told.map((one) => ({
    key: one.key,
    text: `${one.words}: ${seen(one)}.`,
    says: one.words,
    seen: seen(one),
    adjusted: one.adjusted,
    evidence: merged(one.first.evidence, one.second.evidence),
  }));
}

function nothingShown(says: string): Sentence {
  return { key: "nothing", text: `${says}.`, says, seen: null, adjusted: null, evidence: [] };
}

function nothing(bouts: number, tried: number): string {
  if (bouts === 0) return "There is no bout to tell of";
  if (tried === 0) return `Nothing that ${theBouts(bouts)} could show: too few to compare anything`;
  return `Nothing that ${theBouts(bouts)} could show: of ${counted(tried, "comparison")} tried, none differs by more than chance would make it`;
}

function theBouts(bouts: number): string {
  return bouts === 1 ? "this 1 bout" : `these ${bouts} bouts`;
}

function seen({ kind, first, second, bouts, difference }: BriefComparison): string {
  const per = Math.round(Math.abs(difference.value) * 100);
  switch (kind) {
    case "paired":
      return `${first.count} ${first.label}, ${second.count} ${second.label}, in ${counted(first.of, "phrase")} of ${bouts} bouts`;
    case "shares":
      return `${first.count} of ${first.of} against ${second.count} of ${second.of} phrases, in ${bouts} bouts`;
    case "net":
      return `${per} touches in a hundred phrases ${difference.value > 0 ? "better" : "worse"}, in ${bouts} bouts`;
    case "trend":
      return `by about ${per} points in a hundred a year, over ${bouts} bouts`;
  }
}

/** Two comparisons that rest on nearly the same touches tell a coach one thing. */
function saysTheSame(one: BriefComparison, other: BriefComparison): boolean {
  if (one.kind !== other.kind) return false;
  const touches = (of: BriefComparison) =>
    new Set(
      [...of.first.evidence, ...of.second.evidence].flatMap(({ file, entries }) =>
        entries.map((entry) => `${entry} ${file}`),
      ),
    );
  const [mine, theirs] = [touches(one), touches(other)];
  const shared = [...mine].filter((touch) => theirs.has(touch)).length;
  return one.kind === "paired" && shared > 0.8 * (mine.size + theirs.size - shared);
}

/** Each entry once, in the order of the bouts. */
function merged(first: BriefEvidence, second: BriefEvidence): BriefEvidence {
  const files = new Map<string, Set<number>>();
  for (const { file, entries } of [...first, ...second]) {
    const all = files.get(file) ?? new Set();
    for (const entry of entries) all.add(entry);
    files.set(file, all);
  }
  return [...files].map(([file, entries]) => ({ file, entries: [...entries].sort((a, b) => a - b) }));
}
