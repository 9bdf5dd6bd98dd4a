// Bout files for measuring and trying: invented people, clubs and events, the same for the same seed.

import { mkdirSync, writeFileSync } from "node:fs";
import path from "node:path";
import { entryText, type Json } from "../../src/bout/edit";
import { formatTime, type Milliseconds } from "../../src/bout/time";

export interface Invented {
  readonly bouts: number;
  /** In each bout. */
  readonly phrases?: number;
  readonly fencers?: number;
  readonly seed?: number;
}

const first = [
  "Vessa",
  "Kel",
  "Orrin",
  "Mavi",
  "Tesk",
  "Ilvo",
  "Nera",
  "Quill",
  "Sabel",
  "Dorro",
  "Yune",
  "Fitch",
];
const last = [
  "Tarn",
  "Odrey",
  "Pellow",
  "Varsk",
  "Immel",
  "Hathe",
  "Crome",
  "Lusker",
  "Wend",
  "Brayle",
  "Osk",
  "Mirrow",
];
const clubs = ["Lantern Hall", "Low Mill", "Quayside", "Stone Barn"];
const events = ["Harbour Open", "Orchard Cup", "Lantern Trophy", "Mill Race"];
const rounds = ["pool 1", "pool 2", "quarter-final", "semi-final", "final"];
const weapons = ["foil", "epee", "sabre"] as const;
const targets = ["flank", "chest", "arm", "shoulder"];

/** A number from 0 to 1, the next of a sequence (mulberry32, a public-domain generator). */
export function sequence(seed: number): () => number {
  let state = seed >>> 0;
  return () => {
    state = (state + 0x6d2b79f5) >>> 0;
    let mixed = Math.imul(state ^ (state >>> 15), state | 1);
    mixed ^= mixed + Math.imul(mixed ^ (mixed >>> 7), mixed | 61);
    return ((mixed ^ (mixed >>> 14)) >>> 0) / 2 ** 32;
  };
}

/** The text of the bout of this number, from 0. */
export function inventedBout(number: number, { phrases = 60, fencers = 40, seed = 1 }: Invented): string {
  const next = sequence(seed * 1_000_003 + number);
  const one = <T>(list: readonly T[]): T => list[Math.floor(next() * list.length)] as T;
  const left = Math.floor(next() * fencers);
  const right = (left + 1 + Math.floor(next() * (fencers - 1))) % fencers;
  const year = 2023 + (number % 3);
  const month = String(1 + Math.floor(next() * 12)).padStart(2, "0");
  const day = String(1 + Math.floor(next() * 28)).padStart(2, "0");
  const weapon = weapons[left % 3];
  const about = {
    title: `Bout ${number + 1}`,
    event: `${one(events)} ${year}`,
    round: one(rounds),
    date: `${year}-${month}-${day}`,
    weapon,
    format: "training",
    rules: "wheelchair-2026",
    video: true,
  };
  const entries = inventedLog(phrases, next, weapon === "epee").map((entry) => `    ${entryText(entry)}`);
  return `{
  "boutline": 1,
  "bout": ${entryText(about as unknown as Record<string, Json>)},
  "fencers": {
    "left": ${entryText(inventedFencer(left))},
    "right": ${entryText(inventedFencer(right))}
  },
  "recordings": [],
  "log": [\n${entries.join(",\n")}\n  ]\n}\n`;
}

/** The same person for the same number. */
export function inventedFencer(number: number): { [field: string]: Json } {
  const round = Math.floor(number / (first.length * last.length));
  const name = `${first[number % first.length]} ${last[(number + Math.floor(number / first.length)) % last.length]}`;
  return {
    id: `f${number}`,
    name: round === 0 ? name : `${name} ${round + 1}`,
    club: clubs[number % clubs.length] as string,
    hand: number % 5 === 0 ? "left" : "right",
    category: number % 2 === 0 ? "A" : "B",
  };
}

function inventedLog(phrases: number, next: () => number, bothCount: boolean): { [field: string]: Json }[] {
  const log: { [field: string]: Json }[] = [];
  const time = (ms: number) => formatTime(ms as Milliseconds);
  let at = 2000;
  for (let index = 0; index < phrases; index++) {
    const opener = next() < 0.55 ? "left" : "right";
    const other = opener === "left" ? "right" : "left";
    const chance = next();
    const [actions, scorer] =
      chance < 0.45
        ? [[`${opener} attack`], opener]
        : chance < 0.75
          ? [[`${opener} attack`, `${other} parry`, `${other} riposte`], other]
          : chance < 0.9
            ? [[`${opener} attack`, `${other} counter-attack`], next() < 0.5 ? opener : other]
            : [[`${opener} attack`], "none"];
    const length = 1200 + Math.floor(next() * 6000);
    const both = bothCount && next() < 0.1;
    log.push({
      kind: "phrase",
      start: time(at),
      halt: time(at + length),
      actions,
      lamps: both ? { left: "valid", right: "valid" } : scorer === "none" ? {} : { [scorer]: "valid" },
      award: both ? "both" : scorer,
      ...(scorer === "none" || both
        ? {}
        : { target: targets[Math.floor(next() * targets.length)] as string }),
    });
    at += length + 4000 + Math.floor(next() * 8000);
    if (index % 20 === 13 && scorer !== "none" && !both)
      log.push({ kind: "review", at: time(at - 3000), by: other, result: "kept", award: scorer });
  }
  return log;
}

/** Writes `bouts` files into a folder, a folder of its own for each event-sized hundred; their full paths. */
export function writeInvented(folder: string, invented: Invented): readonly string[] {
  return Array.from({ length: invented.bouts }, (_, number) => {
    const within = path.join(folder, `part-${String(Math.floor(number / 100)).padStart(3, "0")}`);
    if (number % 100 === 0) mkdirSync(within, { recursive: true });
    const file = path.join(within, `bout-${String(number).padStart(5, "0")}.bout.json`);
    writeFileSync(file, inventedBout(number, invented));
    return file;
  });
}
