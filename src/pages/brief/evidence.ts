// The phrases behind a figure of a brief, which lie in several files, as a button of the page that plays them.

import { countOf, type Brief, type BriefEvidence } from "../../figures/brief";
import { markup, type Markup } from "../markup";
import type { Medium } from "../reader";

export interface BriefPlayable {
  /** Names the figure; the same when the page is made again. */
  readonly key: string;
  readonly title: string;
  readonly evidence: BriefEvidence;
  /** True where the words around the button say already what it plays. */
  readonly plain?: boolean;
}
export type BriefPlay = (what: BriefPlayable, words: string | number) => Markup;

/** `data-evidence` is `bout:entry,entry;bout:entry`, bouts by their place in the brief. Figures of a file, and those of
 * bouts without a recording, are plain text. */
export function briefPlayer({ bouts }: Brief, medium: Medium): BriefPlay {
  if (medium === "file") return (_, words) => markup`${words}`;
  const places = new Map(bouts.flatMap(({ file, recorded }, at) => (recorded ? [[file, at] as const] : [])));
  return ({ key, title, evidence, plain }, words) => {
    const known = evidence.filter(({ file }) => places.has(file));
    if (countOf(known) === 0) return markup`${words}`;
    const written = known
      .map(({ file, entries }) => `${places.get(file) ?? 0}:${entries.join(",")}`)
      .join(";");
    const name = `${words} \u2013 play ${title}`;
    return markup`<button type="button" class="evidence" data-key="${key}" data-evidence="${written}" data-title="${title}"${
      plain !== true && markup` aria-label="${name}" title="${name}"`
    }>${words}</button>`;
  };
}

/** What `data-evidence` says, for bouts in the order of the brief; undefined where it is not of that shape. */
export function readEvidence(
  written: string,
  bouts: readonly { readonly file: string }[],
): BriefEvidence | undefined {
  const found: { file: string; entries: number[] }[] = [];
  for (const part of written.split(";")) {
    const shape = /^(\d{1,6}):(\d{1,7}(?:,\d{1,7})*)$/.exec(part);
    const file = bouts[Number(shape?.[1] ?? NaN)]?.file;
    if (shape === null || file === undefined) return undefined;
    found.push({ file, entries: (shape[2] ?? "").split(",").map(Number) });
  }
  return found;
}
