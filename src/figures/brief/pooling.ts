// A number over several bouts: its limits from how far the bouts disagree, and the entries behind it in each file.

import { pooledShare, type PooledShare } from "../../statistics";
import { hasTouch } from "../../rules";
import { opponent } from "../../bout/words";
import type { CountedPhrase } from "../phrases";
import type { Entries } from "../rates";
import type { OwnBout } from "./fencers";

/** Entries of the logs behind a figure, by file, in the order of the bouts; files without any are left out. */
export type BriefEvidence = readonly { readonly file: string; readonly entries: Entries }[];

/** A share over bouts; `evidence` holds as many entries as `count`. */
export interface PooledRate extends PooledShare {
  readonly evidence: BriefEvidence;
}

/** Phrases of one kind, and whose touch they were. */
export interface TouchRow {
  /** Names the row; the same whenever the brief is made again. */
  readonly key: string;
  readonly label: string;
  /** Bouts in which there is such a phrase. */
  readonly bouts: number;
  readonly phrases: number;
  readonly evidence: BriefEvidence;
  /** A touch stands for the fencer; against; for neither. Where both have one it counts in the first two. */
  readonly for: PooledRate;
  readonly against: PooledRate;
  readonly nothing: PooledRate;
}

export type Wanted = (phrase: CountedPhrase, bout: OwnBout) => boolean;

export const isFor: Wanted = ({ row }, { side }) => hasTouch(row.phrase.stands, side);
export const isAgainst: Wanted = ({ row }, { side }) => hasTouch(row.phrase.stands, opponent(side));

/** The phrases of each bout that are wanted. */
export interface Picked {
  readonly bout: OwnBout;
  readonly phrases: readonly CountedPhrase[];
}

export function pick(bouts: readonly OwnBout[], wanted: Wanted): readonly Picked[] {
  return bouts.map((bout) => ({ bout, phrases: bout.phrases.filter((phrase) => wanted(phrase, bout)) }));
}

export function narrowed(picked: readonly Picked[], wanted: Wanted): readonly Picked[] {
  return picked.map(({ bout, phrases }) => ({
    bout,
    phrases: phrases.filter((phrase) => wanted(phrase, bout)),
  }));
}

export function evidenceOf(picked: readonly Picked[]): BriefEvidence {
  return evidenceFrom(
    picked.map(({ bout: { file }, phrases }) => ({ file, entries: phrases.map(({ entry }) => entry) })),
  );
}

export function evidenceFrom(all: BriefEvidence): BriefEvidence {
  return all.filter(({ entries }) => entries.length > 0);
}

export function countOf(evidence: BriefEvidence): number {
  return evidence.reduce((sum, { entries }) => sum + entries.length, 0);
}

/** The share of the phrases picked that are wanted. */
export function shareOf(picked: readonly Picked[], wanted: Wanted): PooledRate {
  const found = narrowed(picked, wanted);
  const groups = picked.map(({ phrases }, index) => ({
    count: found[index]?.phrases.length ?? 0,
    of: phrases.length,
  }));
  return { ...pooledShare(groups), evidence: evidenceOf(found) };
}

/** The share of entries over bouts, each bout with its own `of`. */
export function rateOf(
  groups: readonly { readonly file: string; readonly entries: Entries; readonly of: number }[],
): PooledRate {
  return {
    ...pooledShare(groups.map(({ entries, of }) => ({ count: entries.length, of }))),
    evidence: evidenceFrom(groups.map(({ file, entries }) => ({ file, entries }))),
  };
}

export function touchRow(key: string, label: string, picked: readonly Picked[]): TouchRow {
  const evidence = evidenceOf(picked);
  return {
    key,
    label,
    bouts: evidence.length,
    phrases: countOf(evidence),
    evidence,
    for: shareOf(picked, isFor),
    against: shareOf(picked, isAgainst),
    nothing: shareOf(picked, (phrase, bout) => !isFor(phrase, bout) && !isAgainst(phrase, bout)),
  };
}

/** A row for each kind that occurs. */
export function rowsThatOccur(rows: readonly TouchRow[]): readonly TouchRow[] {
  return rows.filter(({ phrases }) => phrases > 0);
}
