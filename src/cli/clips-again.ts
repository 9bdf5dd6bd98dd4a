// The clips of a manifest made again: each recording is looked for by its bare name, and is the same one only where its
// content is.

import { existsSync, statSync } from "node:fs";
import path from "node:path";
import { readText } from "../shelf/text";
import { readManifest, type ClipPlan, type ToldClip } from "../video/clips";
import { fingerprint } from "../video/fingerprint";
import { Unusable } from "./verb";

export interface Again {
  readonly plan: readonly ClipPlan[];
  /** Version of the ffmpeg the clips were made with. */
  readonly ffmpeg: string;
  /** What differs from then, for a person. */
  readonly notes: readonly string[];
}

/** `places` are folders, or recordings themselves; none: beside the manifest and one folder up. Throws `Unusable`. */
export async function clipsAgain(file: string, places: readonly string[], changed: boolean): Promise<Again> {
  const text = await readText(file);
  if (!text.ok) throw new Unusable(`${file}: ${text.problem}`);
  const manifest = readManifest(text.value);
  if (!manifest.ok) throw new Unusable(`${file}: ${manifest.problem}`);
  const folder = path.dirname(path.resolve(file));
  const all = places.length === 0 ? [folder, path.dirname(folder)] : places.map((one) => path.resolve(one));
  const gone = all.find((one) => !existsSync(one));
  if (gone !== undefined) throw new Unusable(`${gone} is not there`);
  const found = new Map<string, string>();
  const notes: string[] = [];
  const plan: ClipPlan[] = [];
  for (const clip of manifest.value.clips) {
    const name = `${clip.source}\n${clip.fingerprint}`;
    let source = found.get(name);
    if (source === undefined) {
      const is = await recordingOf(clip, all);
      if (is.changed) {
        const told = `${is.file} is not the recording the clips were cut from, or has changed since`;
        if (!changed) throw new Unusable(`${told}; --changed cuts them all the same, at the same seconds`);
        notes.push(`${told}; cut all the same`);
      }
      source = is.file;
      found.set(name, source);
    }
    plan.push({ ...clip.plan, source });
  }
  return { plan, ffmpeg: manifest.value.ffmpeg, notes };
}

async function recordingOf(
  { source, fingerprint: wanted }: Pick<ToldClip, "source" | "fingerprint">,
  places: readonly string[],
): Promise<{ readonly file: string; readonly changed: boolean }> {
  const candidates = places
    .map((place) => (statSync(place).isDirectory() ? path.join(place, source) : place))
    .filter((file) => statSync(file, { throwIfNoEntry: false })?.isFile() === true);
  for (const file of candidates) if ((await fingerprint(file)) === wanted) return { file, changed: false };
  const [file] = candidates;
  if (file === undefined)
    throw new Unusable(`there is no ${source} in ${places.join(" or ")}; say with --from where it lies`);
  return { file, changed: true };
}
