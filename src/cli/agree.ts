// `boutline agree`: how far the readers of a seminar pack agree with its reference and with each other.

import { createHash } from "node:crypto";
import { readFile } from "node:fs/promises";
import path from "node:path";
import { classAgreementOf, classTables, type ClassAgreement } from "../figures/class-agreement";
import type { SeminarKey } from "../figures/seminar-format";
import { readersOf, readKey } from "../figures/seminar-reading";
import { coefficient, passText, verdicts, wayWords, waysText } from "../pages/class-words";
import { counted } from "../pages/numbers";
import { readText } from "../shelf/text";
import { plain, rateText, table } from "./lines";
import { tableFiles, writeFiles, type NewFile } from "./sheet-files";
import { Unusable, wordsOf, type Streams, type Verb } from "./verb";

const help = `boutline agree KEY ANSWERS... [OPTIONS]

How far the readers of a seminar pack agree with its reference and with each other.
KEY is the pack's key.json, ANSWERS are the files the readers sent back. If one of
them can't be used, the reason is said and nothing is written.

  --html FILE   a page too; it plays the clips of the folder "pack" beside KEY
  --csv DIR     tables too, a file each: readers, against-reference, together, clips,
                calls, pairs, sureness, ways
  --json        for other programs: { "agree": 1, ... }
  --force       write over files that are there already

What the figures mean: media/figures.md; the columns: media/seminars.md.
`;

export const agree: Verb = {
  help,
  run: async (words, streams) => {
    const { values, positionals } = wordsOf(words, {
      html: { type: "string" },
      json: { type: "boolean" },
      csv: { type: "string" },
      force: { type: "boolean" },
    });
    const [keyFile, ...answerFiles] = positionals;
    if (keyFile === undefined || answerFiles.length === 0)
      throw new Unusable("name the pack's key and one file of answers or more");
    const read = await filesOf(keyFile, answerFiles, streams);
    if (read === undefined) return 2;
    const found = classAgreementOf(read.key, read.answers);
    const files = [
      ...(values.html === undefined ? [] : [await page(found, keyFile, values.html)]),
      ...(values.csv === undefined ? [] : tableFiles(values.csv, classTables(found))),
    ];
    const written = await writeFiles(files, values.force === true);
    if (!written.ok) {
      streams.errors(plain(`boutline agree: ${written.problem}`) + "\n");
      return 2;
    }
    if (values.json === true) streams.out(JSON.stringify({ agree: 1, ...found }, undefined, 2) + "\n");
    else for (const line of summary(found)) streams.out(plain(line.replaceAll("\u00a0", " ")) + "\n");
    return 0;
  },
};

type Class = { readonly key: SeminarKey; readonly answers: Parameters<typeof classAgreementOf>[1] };

/** All that is wrong is said at once, so that it can be put right at once. */
async function filesOf(
  keyFile: string,
  answerFiles: readonly string[],
  { errors }: Streams,
): Promise<Class | undefined> {
  const say = (file: string, problem: string): undefined => {
    errors(plain(`boutline agree: ${file}: ${problem}`) + "\n");
    return undefined;
  };
  const keyText = await readText(keyFile);
  if (!keyText.ok) {
    say(keyFile, keyText.problem);
    return;
  }
  const key = readKey(keyText.value);
  if (!key.ok) {
    say(keyFile, key.problem.message);
    return;
  }
  const files: { name: string; text: string }[] = [];
  let unusable = false;
  for (const name of answerFiles) {
    const text = await readText(name);
    if (text.ok) files.push({ name, text: text.value });
    else {
      say(name, text.problem);
      unusable = true;
    }
  }
  const { answers, refused } = readersOf(key.value, files);
  for (const { name, problem } of refused) say(name, problem.message);
  return unusable || refused.length > 0 ? undefined : { key: key.value, answers };
}

async function page(found: ClassAgreement, keyFile: string, file: string): Promise<NewFile> {
  const media = path.join(__dirname, "..", "media");
  const styles = ["sheet.css", "class-agreement.css"].map((name) => readFile(path.join(media, name), "utf8"));
  const css = (await Promise.all(styles)).join("\n");
  const hash = createHash("sha256").update(css).digest("base64");
  const { classAgreementFile } = await import("../pages/class-agreement");
  const pack = wayTo(path.join(path.dirname(keyFile), "pack"), file);
  return { file, text: classAgreementFile(found, { css, hash }, pack) };
}

/** From the page to the folder, as an address that goes along when both are moved together. */
function wayTo(folder: string, page: string): string {
  const way = path.relative(path.dirname(path.resolve(page)), path.resolve(folder));
  return way === "" ? "" : way.split(path.sep).map(encodeURIComponent).join("/") + "/";
}

function summary(found: ClassAgreement): readonly string[] {
  const { title, readers, clips, sittings, together, confusions, sureness, ways } = found;
  return [
    `${title}: ${counted(readers, "reader")}, ${counted(clips.length, "clip")}`,
    "",
    ...verdicts(together),
    "",
    ...table([
      ["reader", "way", "marks", "result", "call right", "kappa", "repeats alike"],
      ...sittings.map((one) => [
        one.reader,
        wayWords[one.way],
        `${one.marks.earned.toFixed(1)} of ${one.marks.of}`,
        passText(one),
        rateText(one.call.rate),
        coefficient(one.call.kappa),
        `${one.repeats.count} of ${one.repeats.of}`,
      ]),
    ]),
    "",
    ...table([
      ["part", "alpha", "Fleiss' kappa", "clips they differ on"],
      ...together.map(({ title: part, alpha, fleiss, split }) => [
        part,
        coefficient(alpha),
        fleiss === null ? "-" : coefficient(fleiss),
        split.join(" ") || "none",
      ]),
    ]),
    "",
    ...table([
      ["hardest clips first", "reference", "right", "calls"],
      ...clips.map(({ file, reference, right, calls }) => [
        file,
        reference ?? "for discussion",
        right === null ? "not scored" : rateText(right),
        calls.map(({ call, count }) => `${call} ${count}`).join("; "),
      ]),
    ]),
    "",
    ...sureness.map(({ sure, rate }) => `sure ${sure} of 4: right ${rateText(rate)}`),
    ...confusions
      .slice(0, 5)
      .map(
        ({ reference, said, count, clips: at }) => `${reference} called ${said}: ${count} (${at.join(" ")})`,
      ),
    ...(ways === null ? [] : ["", waysText(ways)]),
    "",
    found.scheme,
  ];
}
