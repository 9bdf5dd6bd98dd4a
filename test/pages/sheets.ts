// Study sheets for the checks of the pages, made from texts as a user's are.
import { createHash } from "node:crypto";
import { readFileSync } from "node:fs";
import path from "node:path";
import { readBout } from "../../src/bout/read";
import { sheetOf, type StudySheet, type TagDefinitions } from "../../src/figures";
import { sheetPage, studyFile, type SectionName } from "../../src/pages";
import { sectionNames } from "../../src/pages/section";
import { studyOf, type Study } from "../../src/rules";

const root = path.join(import.meta.dirname, "..", "..");

export const styles = readFileSync(path.join(root, "media", "sheet.css"), "utf8");

export function studied(text: string): Study {
  const study = studyOf(readBout(text));
  if (study === undefined) throw new Error("this text holds no bout");
  return study;
}

/** The demo bout that ships. */
export function demo(): Study {
  return studied(readFileSync(path.join(root, "media", "demo", "demo.bout.json"), "utf8"));
}

export interface Parts {
  readonly bout?: object;
  readonly left?: object;
  readonly right?: object;
  readonly recordings?: readonly object[];
  readonly more?: object;
}

/** A bout with this log: foil, with a recording, unless the parts say otherwise. */
export function boutWith(log: readonly object[], { bout, left, right, recordings, more }: Parts = {}): Study {
  return studied(
    JSON.stringify({
      boutline: 1,
      bout: { weapon: "foil", format: "elimination", rules: "wheelchair-2026", ...bout },
      fencers: { left: { name: "Vessa Tarn", ...left }, right: { name: "Kel Odrey", ...right } },
      recordings: recordings ?? [{ file: "bout.mp4" }],
      ...more,
      log,
    }),
  );
}

/** `0:MM:SS.000` */
export function at(seconds: number): string {
  const two = (value: number) => String(value).padStart(2, "0");
  return `0:${two(Math.floor(seconds / 60))}:${two(seconds % 60)}.000`;
}

/** `count` phrases, ten seconds apart, of two seconds each. */
export function phrases(count: number, rest: object, first = 0): object[] {
  return Array.from({ length: count }, (_, index) => ({
    kind: "phrase",
    start: at(10 * (first + index)),
    halt: at(10 * (first + index) + 2),
    ...rest,
  }));
}

export function figuresOf({ ledger, findings }: Study): StudySheet {
  return sheetOf(ledger, findings);
}

export function pageOf(study: Study, figures = figuresOf(study), open?: ReadonlySet<SectionName>): string {
  return sheetPage(figures, study.ledger, open === undefined ? {} : { open });
}

/** With every section unfolded. */
export function wholePageOf(study: Study): string {
  return pageOf(study, undefined, new Set(sectionNames));
}

/** The sheet as a file of its own. */
export function fileOf(study: Study, definitions?: TagDefinitions): string {
  const hash = createHash("sha256").update(styles).digest("base64");
  return studyFile(study, { css: styles, hash }, definitions);
}

/** What a reader sees of a piece of HTML: its text, spaces made plain. */
export function textOf(html: string): string {
  return html
    .replace(/<[^>]*>/g, " ")
    .replace(/&lt;/g, "<")
    .replace(/&gt;/g, ">")
    .replace(/&quot;/g, '"')
    .replace(/&#39;/g, "'")
    .replace(/&amp;/g, "&")
    .replace(/\s+/g, " ")
    .trim();
}

/** The row of the fencers' table with this title under this heading: left's cell and right's, as text. */
export function sideRow(page: string, heading: string, title: string): { left: string; right: string } {
  const { left, right } = sideCells(page, heading, title);
  return { left: textOf(left), right: textOf(right) };
}

/** The same as HTML. */
export function sideCells(page: string, heading: string, title: string): { left: string; right: string } {
  const groups = page.split(/<tbody[^>]*><tr class="group">/).slice(1);
  const group = groups.find((one) => textOf(one).startsWith(heading));
  const row = (group ?? "")
    .split("</tbody>")[0]
    ?.split(/<tr[^>]*>/)
    .find((one) => one.includes(`<th scope="row">${title}</th>`));
  const cells =
    row === undefined
      ? null
      : /<td class="left">(.*)<\/td><th .*<\/th><td class="right">(.*)<\/td>/s.exec(row);
  if (cells === null) throw new Error(`the page has no row "${title}" under "${heading}"`);
  return { left: cells[1] ?? "", right: cells[2] ?? "" };
}
