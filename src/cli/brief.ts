// `boutline brief`: what many bouts say of one fencer, or of one against another.

import { createHash } from "node:crypto";
import { readFile } from "node:fs/promises";
import path from "node:path";
import { briefOf, countOf, type BoutRead, type Brief, type TouchRow } from "../figures/brief";
import { findBoutFiles } from "../shelf/find";
import { readText } from "../shelf/text";
import { plain, rateText, table } from "./lines";
import { writeFiles } from "./sheet-files";
import { studyOfFile } from "../shelf/study";
import { Unusable, wordsOf, type Verb } from "./verb";

const help = `boutline brief --fencer ID [--against ID] FOLDER... [--html FILE] [--json] [--force]

What the bout files under the folders say of one fencer: how touches are won and
lost, moments, reviews, cards, changes over time, and what of it is more than
chance. Fencers are joined by "id". Limits are 95 % and grow as bouts differ.

  --fencer ID     whose brief it is
  --against ID    only the bouts between the two, and the opponents both have met
  --html FILE     writes the brief as one HTML file, with a page to plan on
  --force         a file of this name is written over
  --json          the same for other programs: { "brief": 1, ... }
`;

export const brief: Verb = {
  help,
  run: async (words, { out, errors }) => {
    const { values, positionals } = wordsOf(words, {
      fencer: { type: "string" },
      against: { type: "string" },
      html: { type: "string" },
      json: { type: "boolean" },
      force: { type: "boolean" },
    });
    if (values.fencer === undefined) throw new Unusable("name the fencer: --fencer ID");
    if (positionals.length === 0) throw new Unusable("name the folders with the bout files");
    if (values.force === true && values.html === undefined) throw new Unusable("--force needs --html FILE");
    const { bouts, leftOut } = await boutsUnder(positionals);
    for (const { file, message } of leftOut) errors(plain(`boutline brief: ${file}: ${message}`) + "\n");
    if (bouts.length === 0) throw new Unusable("there is no bout file that can be read under these folders");
    const made = briefOf(bouts, values.fencer, values.against);
    if (!made.ok) throw new Unusable(made.problem);
    if (values.html !== undefined) {
      const kept = await writeFiles(
        [{ file: values.html, text: await pageText(made.value) }],
        values.force === true,
      );
      if (!kept.ok) throw new Unusable(kept.problem);
    }
    if (values.json === true) out(JSON.stringify(made.value, undefined, 2) + "\n");
    else for (const line of briefLines(made.value)) out(plain(line) + "\n");
    return leftOut.length > 0 ? 1 : 0;
  },
};

interface Unread {
  readonly file: string;
  readonly message: string;
}

/** Every bout file that can be read; the others are told, and the rest goes on. */
async function boutsUnder(
  folders: readonly string[],
): Promise<{ readonly bouts: readonly BoutRead[]; readonly leftOut: readonly Unread[] }> {
  const found = await findBoutFiles(folders);
  const bouts: BoutRead[] = [];
  const leftOut: Unread[] = [...found.leftOut];
  for (const { file } of found.files) {
    const text = await readText(file);
    const read = text.ok ? await studyOfFile(file, text.value) : undefined;
    const shown = path.relative("", file);
    // Figures of half a file would be wrong without looking so.
    if (read?.study !== undefined && !read.reading.scan.broken)
      bouts.push({ file: shown, ledger: read.study.ledger });
    else
      leftOut.push({
        file: shown,
        message: text.ok ? "can't be read as a bout file (see boutline check); left out" : text.problem,
      });
  }
  return { bouts, leftOut };
}

async function pageText(made: Brief): Promise<string> {
  const css = await readFile(path.join(__dirname, "..", "media", "sheet.css"), "utf8");
  const { briefFile } = await import("../pages/brief");
  return briefFile(made, { css, hash: createHash("sha256").update(css).digest("base64") });
}

function briefLines(made: Brief): readonly string[] {
  const { fencer, against, bouts, leftOut, sentences, comparisons, reviews, trend } = made;
  const between = against === null ? "" : ` against ${against.name} (${against.id})`;
  const lines = [
    `Brief on ${fencer.name} (${fencer.id})${between}: ${bouts.length} ${bouts.length === 1 ? "bout" : "bouts"}`,
    "",
    ...sentences.map(({ text }) => `- ${text}`),
    "",
    ...section("Who committed first", [...made.opened, made.total]),
    ...section("Own actions", made.families.own),
    ...section("Opponents' actions", made.families.opponents),
    ...section("Opponents' hand", made.hands),
    ...section("Weapons", made.weapons),
    ...section("Moments", made.moments),
    ...section("Opponents", made.opponents),
    `Reviews asked ${countOf(reviews.own.asked)}, granted ${rateText(reviews.own.granted)}`,
    ...trend.years.map(({ year, share }) => `Share of touches ${year}: ${rateText(share)}`),
    `Comparisons tried: ${comparisons.tried}, passed: ${comparisons.list.filter(({ passes }) => passes).length}`,
    ...leftOut.map(({ file, why }) => `Not counted: ${file}: ${why}`),
    "",
    ...made.cautions,
  ];
  return lines;
}

function section(title: string, rows: readonly TouchRow[]): readonly string[] {
  if (rows.length === 0) return [];
  return [
    ...table([
      [title, "bouts", "touch for", "touch against"],
      ...rows.map((row) => [row.label, String(row.bouts), rateText(row.for), rateText(row.against)]),
    ]),
    "",
  ];
}
