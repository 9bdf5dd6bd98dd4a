// `boutline brief`: what many bouts say of one fencer, or of one against another.

import { createHash } from "node:crypto";
import { existsSync, statSync } from "node:fs";
import { readFile } from "node:fs/promises";
import path from "node:path";
import { failure, success, type Result } from "../bout/result";
import { briefOf, countOf, type Brief, type ShownPlan, type TouchRow } from "../figures/brief";
import { BriefBouts, type UnreadBout } from "../shelf/brief-bouts";
import { findBoutFiles } from "../shelf/find";
import { planFileIn, planOnDisk, type PlanOf } from "../shelf/plan-file";
import { plain, rateText, table } from "./lines";
import { writeFiles } from "./sheet-files";
import { Unusable, wordsOf, type Verb } from "./verb";

const help = `boutline brief --fencer ID [--against ID] FOLDER... [--html FILE] [--plan FILE]
  [--json] [--force]

What the bout files under the folders say of one fencer: how touches are won and
lost, moments, reviews, cards, changes over time, and what of it is more than
chance. Fencers are joined by "id". Limits are 95 % and grow as bouts differ.

  --fencer ID     whose brief it is
  --against ID    only the bouts between the two, and the opponents both have met
  --html FILE     writes the brief as one HTML file, with a page to plan on
  --plan FILE     the plan written for it; without this FENCER.plan.json in the
                  folders, where it is there
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
      plan: { type: "string" },
      json: { type: "boolean" },
      force: { type: "boolean" },
    });
    if (values.fencer === undefined) throw new Unusable("name the fencer: --fencer ID");
    if (positionals.length === 0) throw new Unusable("name the folders with the bout files");
    if (values.force === true && values.html === undefined) throw new Unusable("--force needs --html FILE");
    const { fencer, against } = values;
    const reader = new BriefBouts();
    const found = await findBoutFiles(positionals);
    const files = found.files.map(({ file }) => ({ path: file, file: path.relative("", file) }));
    const { bouts, leftOut: unread } = await reader.read(files);
    const leftOut: UnreadBout[] = [...found.leftOut, ...unread];
    const say = ({ file, message }: UnreadBout) =>
      errors(plain(`boutline brief: ${file}: ${message}`) + "\n");
    leftOut.forEach(say);
    if (bouts.length === 0) throw new Unusable("there is no bout file that can be read under these folders");
    const made = briefOf(bouts, fencer, against);
    if (!made.ok) throw new Unusable(made.problem);
    const plan = await planFor(reader, made.value, values.plan, positionals, { fencer, against });
    if (!plan.ok) {
      leftOut.push(plan.problem);
      say(plan.problem);
    }
    const shown = plan.ok ? plan.value : undefined;
    if (values.html !== undefined) {
      const kept = await writeFiles(
        [{ file: values.html, text: await pageText(made.value, shown) }],
        values.force === true,
      );
      if (!kept.ok) throw new Unusable(kept.problem);
    }
    if (values.json === true) out(JSON.stringify(made.value, undefined, 2) + "\n");
    else for (const line of briefLines(made.value, shown)) out(plain(line) + "\n");
    return leftOut.length > 0 ? 1 : 0;
  },
};

/** The plan named, else the one that lies in a folder; a plan that can't be used is told, and the brief goes on. */
async function planFor(
  reader: BriefBouts,
  made: Brief,
  named: string | undefined,
  places: readonly string[],
  of: PlanOf,
): Promise<Result<ShownPlan, UnreadBout>> {
  if (named !== undefined && !existsSync(named)) throw new Unusable(`there is no plan ${named}`);
  const folders = places.map((place) => (isFolder(place) ? place : path.dirname(place)));
  const file = path.resolve(named ?? planFileIn(folders, of));
  const read = await planOnDisk(file, of);
  if (!read.ok)
    return failure({ file: path.relative("", file), message: `${read.problem}; the plan is left out` });
  const { text, plan } = read.value;
  return success(reader.plan(made, text === undefined ? undefined : plan, path.dirname(file)));
}

function isFolder(place: string): boolean {
  return statSync(place, { throwIfNoEntry: false })?.isDirectory() ?? false;
}

async function pageText(made: Brief, plan: ShownPlan | undefined): Promise<string> {
  const css = await readFile(path.join(__dirname, "..", "media", "sheet.css"), "utf8");
  const { briefFile } = await import("../pages/brief");
  return briefFile(made, plan, { css, hash: createHash("sha256").update(css).digest("base64") });
}

function briefLines(made: Brief, plan: ShownPlan | undefined): readonly string[] {
  const { fencer, against, bouts, leftOut, sentences, comparisons, reviews, trend } = made;
  const between = against === null ? "" : ` against ${against.name} (${against.id})`;
  const lines = [
    `Brief on ${fencer.name} (${fencer.id})${between}: ${bouts.length} ${bouts.length === 1 ? "bout" : "bouts"}`,
    "",
    ...sentences.map(({ text }) => `- ${text}`),
    "",
    ...planLines(plan),
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

function planLines(plan: ShownPlan | undefined): readonly string[] {
  const written = (plan?.things ?? []).filter(({ words, ties }) => words.trim() !== "" || ties.length > 0);
  if (written.length === 0) return [];
  return [
    "Plan",
    ...written.map(({ words, ties }, at) => {
      const phrases = ties.reduce((sum, tie) => sum + tie.phrases.length, 0);
      return `${at + 1}. ${words.trim().replace(/\s+/g, " ")} (${phrases} ${phrases === 1 ? "phrase" : "phrases"})`;
    }),
    "",
  ];
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
