// Is it still the recording that was tagged? A bout file holds no trace of the recording's content, so this can't be known
// for sure. What can be: whether clips were cut out of another content of this name before, whether anything was tagged
// beyond the recording's end, and whether the tagged times are times of its frames.

import { readFile } from "node:fs/promises";
import path from "node:path";
import { nearestFrame, type FrameTimes } from "../../bout/frames";
import type { Ledger } from "../../rules";
import { fingerprint } from "../fingerprint";
import { manifestName } from "./cut";
import type { PickedBout } from "./phrase-clips";
import { readManifest } from "./read-manifest";

/** Fewer times say too little. */
const fewestTimes = 8;
/** Seconds a time written in whole milliseconds may lie beside its frame's. */
const besideFrame = 0.0015;

type TaggedBout = Pick<PickedBout, "name" | "ledger" | "source">;

export interface SignsOfChange {
  /** What makes it doubtful, in sentences. */
  readonly doubts: readonly string[];
  /** Said where it is certain, without a stop: nothing is cut then unless the user wants it all the same. */
  readonly changed: string | undefined;
}

/**
 * What speaks against the source being the recording that was tagged: `place` is its place among those of the bout,
 * `times` are its frames', and the folders are where clips of it may lie already.
 */
export async function signsOfChange(
  bout: TaggedBout,
  place: number,
  times: FrameTimes,
  folders: readonly string[],
): Promise<SignsOfChange> {
  return { doubts: doubtsAbout(bout.ledger, place, times), changed: await changedSince(bout, folders) };
}

/** Whether clips in one of these folders were cut out of another content of that name, in words. */
export async function changedSince(
  { name, source }: Pick<TaggedBout, "name" | "source">,
  folders: readonly string[],
): Promise<string | undefined> {
  const manifest = await cutBefore(folders, name, source);
  return manifest === undefined
    ? undefined
    : `${source} is another recording than when the clips of ${manifest} were cut from it`;
}

function doubtsAbout({ bout, rows }: Ledger, place: number, times: FrameTimes): readonly string[] {
  const named = bout.recordings[place];
  if (named === undefined) return [];
  const offset = place === 0 ? 0 : (named.offset ?? 0);
  const commands = rows.flatMap((row) => (row.kind === "phrase" ? timesIn(row.entry) : []));
  const doubts: string[] = [];
  const end = times.at(-1) ?? 0;
  const last = rows.reduce((most, { entry }) => Math.max(most, ...timesIn(entry)), 0) / 1000 - offset;
  // Another recording may hold the rest of the bout.
  if (bout.recordings.length === 1 && last > end + 1)
    doubts.push(
      `The bout file goes on to ${last.toFixed(3)} s, but ${named.file} ends at ${end.toFixed(3)} s. Is it the whole recording that was tagged?`,
    );
  const within = commands.map((time) => time / 1000 - offset).filter((time) => time >= 0 && time <= end);
  const beside = within.filter(
    (time) => Math.abs((times[nearestFrame(times, time)] ?? 0) - time) > besideFrame,
  );
  // A frame lasts 20 to 40 ms, so of times that have nothing to do with it nine in ten lie beside one. A second recording's
  // offset need not be one of its frames.
  if (place === 0 && within.length >= fewestTimes && beside.length > within.length / 2)
    doubts.push(
      `${beside.length} of ${within.length} times of the bout file are times of no frame of ${named.file}: it may have been cut or converted since it was tagged. Look at the clips.`,
    );
  return doubts;
}

/** Milliseconds an entry names. */
function timesIn(entry: object): number[] {
  const { start, halt, at } = entry as Readonly<Record<string, unknown>>;
  return [start, halt, at].filter((time) => typeof time === "number");
}

/** A manifest in one of these folders whose clips of this bout were cut out of another content of the same name. */
async function cutBefore(
  folders: readonly string[],
  boutName: string,
  source: string,
): Promise<string | undefined> {
  let own: string | undefined;
  for (const folder of new Set(folders)) {
    const file = path.join(folder, manifestName);
    const text = await readFile(file, "utf8").catch(() => undefined);
    const manifest = text === undefined ? undefined : readManifest(text);
    if (manifest?.ok !== true) continue;
    const clips = manifest.value.clips.filter(
      (clip) => clip.source === path.basename(source) && isOf(clip.plan.evidence, boutName),
    );
    if (clips.length === 0) continue;
    own ??= await fingerprint(source);
    if (clips.some((clip) => clip.fingerprint !== own)) return file;
  }
  return undefined;
}

function isOf(evidence: unknown, boutName: string): boolean {
  return (
    typeof evidence === "object" && evidence !== null && "bout" in evidence && evidence.bout === boutName
  );
}
