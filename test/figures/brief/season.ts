// Invented seasons: bouts of fencers whose true tendencies are known, so that a test sees whether a brief finds them.

import { entryText, type Json } from "../../../src/bout/edit";
import { readBout } from "../../../src/bout/read";
import { formatTime, type Milliseconds } from "../../../src/bout/time";
import type { BoutRead } from "../../../src/figures/brief";
import { studyOf } from "../../../src/rules";

/** Probabilities of one phrase. Whoever does not score may be hit; the rest is no touch. */
export interface Tendencies {
  /** That the fencer opens rather than the opponent. */
  readonly opens: number;
  /** Touch for the fencer where they open, and where the opponent does. */
  readonly scoresOpening: number;
  readonly scoresAnswering: number;
  readonly hitOpening: number;
  readonly hitAnswering: number;
  /** Standard deviation between bouts of the two probabilities of a touch for, uniform around them. */
  readonly between: number;
}

export const nothingToFind: Tendencies = {
  opens: 0.5,
  scoresOpening: 0.35,
  scoresAnswering: 0.35,
  hitOpening: 0.35,
  hitAnswering: 0.35,
  between: 0.06,
};
export const strongOpener: Tendencies = {
  opens: 0.45,
  scoresOpening: 0.55,
  scoresAnswering: 0.24,
  hitOpening: 0.25,
  hitAnswering: 0.46,
  between: 0.06,
};

const opponents = [
  { id: "odrey", name: "Kel Odrey", club: "Millgate", hand: "left" },
  { id: "brisk", name: "Ansa Brisk", club: "Millgate", hand: "right" },
  { id: "quill", name: "Dov Quill", club: "North Stairs", hand: "right" },
  { id: "maro", name: "Iva Maro", club: "Tallow Row", hand: "left" },
  { id: "sund", name: "Perrin Sund", club: "Tallow Row", hand: "right" },
  { id: "yelm", name: "Oska Yelm", club: "North Stairs", hand: "right" },
] as const;

/** Numbers from 0 below 1, the same for the same seed (Steele, Lea and Flood's SplitMix, in 32 bits). */
export function chance(seed: number): () => number {
  let state = seed >>> 0;
  return () => {
    state = (state + 0x9e3779b9) >>> 0;
    let mixed = Math.imul(state ^ (state >>> 16), 0x85ebca6b);
    mixed = Math.imul(mixed ^ (mixed >>> 13), 0xc2b2ae35);
    return ((mixed ^ (mixed >>> 16)) >>> 0) / 2 ** 32;
  };
}

/** Text of bout files of `tarn`, by file name. In every other bout the fencer is on the left. */
export function seasonTexts(
  bouts: number,
  tendencies: Tendencies,
  seed: number,
  phrases = 60,
  format = "training",
): readonly { readonly file: string; readonly text: string }[] {
  const random = chance(seed);
  return Array.from({ length: bouts }, (_, index) => ({
    file: `season/bout-${String(index + 1).padStart(3, "0")}.bout.json`,
    text: boutText(index, tendencies, random, phrases, format),
  }));
}

export function season(...wanted: Parameters<typeof seasonTexts>): readonly BoutRead[] {
  return seasonTexts(...wanted).map(({ file, text }) => boutRead(file, text));
}

export function boutRead(file: string, text: string): BoutRead {
  const reading = readBout(text);
  const study = studyOf(reading);
  if (study === undefined || reading.problems.some(({ severity }) => severity === "error"))
    throw new Error(`${file}: ${reading.problems.map(({ message }) => message).join("; ")}`);
  return { file, ledger: study.ledger };
}

function boutText(
  index: number,
  tendencies: Tendencies,
  random: () => number,
  phrases: number,
  format: string,
): string {
  const own = index % 2 === 0 ? "left" : "right";
  const other = own === "left" ? "right" : "left";
  const rival = opponents[Math.floor(random() * opponents.length)] ?? opponents[0];
  // A uniform spread has this standard deviation over its half width.
  const shift = (2 * random() - 1) * tendencies.between * Math.sqrt(3);
  const log: Json[] = [];
  const score = { left: 0, right: 0 };
  for (let phrase = 0; phrase < phrases; phrase++) {
    if (format !== "training" && Math.max(score.left, score.right) >= 15) break;
    const at = 2000 + phrase * 9000;
    const opens = random() < tendencies.opens;
    const scores = (opens ? tendencies.scoresOpening : tendencies.scoresAnswering) + shift;
    const hit = (opens ? tendencies.hitOpening : tendencies.hitAnswering) - shift;
    const draw = random();
    const award = draw < scores ? own : draw < scores + hit ? other : "none";
    const [opener, answerer] = opens ? [own, other] : [other, own];
    const actions =
      award === opener || (award === "none" && random() < 0.5)
        ? [`${opener} attack`]
        : [`${opener} attack`, `${answerer} parry`, `${answerer} riposte`];
    const targets = ["flank", "chest", "shoulder"] as const;
    log.push({
      kind: "phrase",
      start: time(at),
      halt: time(at + 3500),
      actions,
      lamps: award === "none" ? {} : { [award]: "valid" },
      award,
      ...(award === "none" ? {} : { target: targets[Math.floor(random() * 3)] ?? "flank" }),
    });
    if (award !== "none") score[award]++;
    if (award === other && random() < 0.06) {
      const granted = random() < 0.4;
      log.push({
        kind: "review",
        at: time(at + 5000),
        by: own,
        result: granted ? "changed" : "kept",
        ...(granted ? { award: "none" } : {}),
      });
      if (granted) score[other]--;
    }
    if (random() < 0.01)
      log.push({
        kind: "card",
        at: time(at + 6500),
        to: random() < 0.5 ? own : other,
        card: "yellow",
        for: "early start",
      });
  }
  const tarn = { id: "tarn", name: "Vessa Tarn", club: "Low Quay", hand: "right", category: "B" };
  const fencers = own === "left" ? { left: tarn, right: rival } : { left: rival, right: tarn };
  const month = String((index % 10) + 1).padStart(2, "0");
  const about = {
    title: `Foil, meeting ${index + 1}`,
    event: ["Harbour Open", "Winter Meet", "Stairs Cup"][index % 3] ?? "Harbour Open",
    round: `round ${index + 1}`,
    date: `${2024 + Math.floor(index / 10)}-${month}-1${index % 9}`,
    weapon: index % 5 === 4 ? "sabre" : "foil",
    format,
    rules: "wheelchair-2026",
    video: true,
  };
  return `{
  "boutline": 1,
  "bout": ${entryText(about)},
  "fencers": ${entryText(fencers)},
  "recordings": [${entryText({ file: `bout-${index + 1}.mp4` })}],
  "log": [\n${log.map((entry) => `    ${entryText(entry)}`).join(",\n")}\n  ]\n}\n`;
}

function time(ms: number): string {
  return formatTime(ms as Milliseconds);
}
