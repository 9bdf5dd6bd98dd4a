// `boutline drift`: which way the platforms went, by how much, and what can be told of it, for a person or a program.

import { driftStudyOf, type Drift, type DriftStudy } from "../figures";
import { driftSentences } from "../pages/drift-words";
import type { Ledger } from "../rules";
import { statusOf } from "./check";
import { readText } from "../shelf/text";
import { plain, table } from "./lines";
import { studyOfFile } from "../shelf/study";
import { Unusable, wordsOf, type Verb } from "./verb";

const help = `boutline drift FILE [--json]

Prints how the platforms slid, turned and closed up between the places where they
were marked, with 95 % limits, who opened the phrases, and what was left out.

  --json   the same for other programs: { "drift": 1, steps, towards, ... }
`;

export const drift: Verb = {
  help,
  run: async (words, { out, errors }) => {
    const { values, positionals } = wordsOf(words, { json: { type: "boolean" } });
    const [file, ...others] = positionals;
    if (file === undefined || others.length > 0) throw new Unusable("name one bout file");
    const text = await readText(file);
    if (!text.ok) {
      errors(plain(`boutline drift: ${file}: ${text.problem}`) + "\n");
      return 2;
    }
    const { reading, study } = await studyOfFile(file, text.value);
    if (study === undefined || reading.scan.broken) {
      for (const { severity, message, place } of reading.problems)
        if (severity === "error") errors(plain(`${file}:${place.line}:${place.column}: ${message}`) + "\n");
      errors(plain(`boutline drift: ${file} can't be read as a bout file`) + "\n");
      return 2;
    }
    const found = driftStudyOf(study.ledger);
    if (values.json === true) out(JSON.stringify(printed(found, study.ledger), undefined, 2) + "\n");
    else for (const line of lines(found, study.ledger)) out(plain(line.replaceAll("\u00a0", " ")) + "\n");
    return statusOf(study.findings);
  },
};

/** Without a step the fields are empty or null, and the note says why. */
const nothing: Drift = {
  steps: [],
  towards: null,
  note: "there is no step: mark both platforms at two still moments of one fit, with no re-centre between them",
  alongPerPhrase: null,
  signTest: { right: 0, left: 0, p: 1 },
  byOpener: {
    left: { phrases: 0, perPhrase: null },
    right: { phrases: 0, perPhrase: null },
    other: { phrases: 0, perPhrase: null },
    p: null,
  },
  turnPerPhrase: null,
  twistPerPhrase: { left: null, right: null },
  gap: null,
  refused: [],
};

function printed({ drift: found, refused, recentres, gapChanges }: DriftStudy, { byEntry }: Ledger) {
  const at = (entry: number): string => byEntry[entry]?.record.at ?? "";
  return {
    drift: 1,
    ...(found ?? nothing),
    refused,
    recentres: recentres.map(({ entry, phrases, after, crept }) => ({
      entry,
      at: at(entry),
      phrases,
      after,
      crept,
    })),
    gapChanges: gapChanges.map(({ from, to, change, error }) => ({
      from: from.entry,
      to: to.entry,
      change,
      error,
    })),
  };
}

function lines(study: DriftStudy, ledger: Ledger): readonly string[] {
  const { drift: found, refused } = study;
  const sentences =
    found === null ? [`Nothing to tell yet: ${nothing.note ?? ""}.`] : driftSentences(study, ledger);
  const leftOut =
    refused.length === 0 ? [] : ["", "left out", ...refused.map(({ at, reason }) => `  ${at}: ${reason}`)];
  return [...sentences, ...(found === null ? [] : ["", ...moves(found, ledger)]), ...leftOut];
}

function moves({ steps }: Drift, { byEntry }: Ledger): readonly string[] {
  const centimetres = (value: number | null, error: number | null): string =>
    value === null || error === null ? "-" : `${(value * 100).toFixed(1)} \u00b1 ${(error * 100).toFixed(1)}`;
  const degrees = (value?: number | null, error?: number | null): string =>
    typeof value !== "number" || typeof error !== "number"
      ? "-"
      : `${value.toFixed(1)} \u00b1 ${error.toFixed(1)}`;
  return table([
    [
      "marked at",
      "phrases",
      "along, cm",
      "across, cm",
      "turn, \u00b0",
      "gap, cm",
      "left twists, \u00b0",
      "right twists, \u00b0",
    ],
    ...steps.map(({ from, phrases, along, across, turn, gap, twist, error }) => [
      byEntry[from]?.record.at ?? "",
      String(phrases),
      centimetres(along, error.along),
      centimetres(across, error.across),
      degrees(turn, error.turn),
      centimetres(gap, error.gap),
      degrees(twist?.left, error.twist?.left),
      degrees(twist?.right, error.twist?.right),
    ]),
  ]);
}
