// Where is a recording that is not where its bout file says? The same recording is one of the same fingerprint; a file
// that only has the same name is told apart from it. No VS Code in here.

import path from "node:path";
import type { BoutRow } from "../shelf";
import { endingOf, findRecordings } from "../shelf/recordings";
import type { Prints } from "./prints";

/** A bout file, and how it names the recording. */
export interface Naming {
  readonly boutFile: string;
  readonly written: string;
}

/** A recording that is not there, and who names it. */
export interface Missing {
  /** Full path where it was. */
  readonly place: string;
  readonly named: readonly Naming[];
}

export type Likeness =
  /** Size and fingerprint agree with what was seen at the old place. */
  | "the same recording"
  /** Nothing is known of what was at the old place. */
  | "not proven the same"
  | "another recording";

export interface Candidate {
  /** Full path. */
  readonly file: string;
  readonly likeness: Likeness;
}

/** What is missing of the bouts chosen, with all bouts that name the same. */
export function missingOf(chosen: readonly BoutRow[], all: readonly BoutRow[]): readonly Missing[] {
  const places = new Set(
    chosen.flatMap((bout) =>
      bout.recordings.flatMap(({ file, present }) => (present ? [] : [placeOf(bout.file, file)])),
    ),
  );
  return [...places].map((place) => ({ place, named: namedIn(place, all) }));
}

/** The bouts that name the recording at this place. */
export function namedIn(place: string, all: readonly BoutRow[]): readonly Naming[] {
  return all.flatMap(({ file: boutFile, recordings }) => {
    const written = new Set(recordings.map(({ file }) => file));
    return [...written].flatMap((one) =>
      placeOf(boutFile, one) === place ? [{ boutFile, written: one }] : [],
    );
  });
}

export function placeOf(boutFile: string, written: string): string {
  return path.join(path.dirname(boutFile), ...written.split("/"));
}

/** For each missing recording what may be it, the surest first. Only files of the size wanted are opened. */
export async function candidatesFor(
  missing: readonly Missing[],
  folders: readonly string[],
  prints: Prints,
  signal?: AbortSignal,
): Promise<ReadonlyMap<Missing, readonly Candidate[]>> {
  const also = missing.map(({ place }) => endingOf(place));
  const files = await findRecordings(folders, { also, signal });
  const found = new Map<Missing, readonly Candidate[]>();
  for (const one of missing) {
    const name = path.basename(one.place).toLowerCase();
    const known = await prints.of(one.place);
    const candidates: Candidate[] = [];
    for (const { file, size } of files) {
      if (signal?.aborted === true) return found;
      const hasName = path.basename(file).toLowerCase() === name;
      if (!hasName && known?.size !== size) continue;
      const likeness = await likenessOf(file, one, prints);
      if (hasName || likeness === "the same recording") candidates.push({ file, likeness });
    }
    found.set(one, candidates.sort(surestFirst));
  }
  return found;
}

/** How a file a person has chosen is like what was seen at the old place. */
export async function likenessOf(file: string, { place }: Missing, prints: Prints): Promise<Likeness> {
  const known = await prints.of(place);
  if (known === undefined) return "not proven the same";
  const seen = await prints.see(file);
  return seen?.size === known.size && seen.print === known.print ? "the same recording" : "another recording";
}

const order: readonly Likeness[] = ["the same recording", "not proven the same", "another recording"];

function surestFirst(one: Candidate, other: Candidate): number {
  return order.indexOf(one.likeness) - order.indexOf(other.likeness) || (one.file < other.file ? -1 : 1);
}
