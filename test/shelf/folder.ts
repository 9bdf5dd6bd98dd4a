// A folder of invented bouts, among them hard ones, for the checks of exports and queries.

import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import path from "node:path";

/** Words that must not be found in an export with pseudonyms; none is part of another word there. */
export const privateWords = {
  names: ["Vessa Tarnovale", "Kel Odreymoor", "Ime Brackwater"],
  clubs: ["Low Quayside Fencers", "Millgate Hall"],
  ids: ["tarnovale-v", "odreymoor-k", "brackwater-i"],
  events: ["Harbourlight Open", '=HYPERLINK("x")'],
  files: ["harbourlight-final", "quiet-semifinal", "lantern-week"],
  titles: ["Gripping medal match"],
  notes: ["takes the spare foil angrily", "limps after the third"],
  tags: ["sulky-arm", "+worried", "semi;colon"],
  taggers: ["Robin Oxenmere"],
  targets: ["Vessa's bruise"],
  rules: ["lantern-house-rules"],
  recordings: ["lantern-camera-two.mp4"],
} as const;

const fencers = [
  { id: "tarnovale-v", name: "Vessa Tarnovale", club: "Low Quayside Fencers", hand: "right" },
  { id: "odreymoor-k", name: "Kel Odreymoor", club: "Millgate Hall", hand: "left" },
  { id: "brackwater-i", name: "Ime Brackwater", club: "Millgate Hall" },
];

function time(seconds: number): string {
  const [minutes, rest] = [Math.floor(seconds / 60), seconds % 60];
  return `0:${String(minutes).padStart(2, "0")}:${rest.toFixed(3).padStart(6, "0")}`;
}

export function boutOf(number: number, phrases: number, about: object = {}): string {
  const log: object[] = [];
  for (let index = 0; index < phrases; index++) {
    const at = 1 + index * 7.25;
    const left = (index + number) % 3 !== 0;
    log.push({
      kind: "phrase",
      start: time(at),
      halt: time(at + 2.4 + (index % 5) * 0.04),
      ...(index % 7 === 6
        ? { award: "none", because: "simultaneous" }
        : { actions: left ? ["left attack"] : ["left attack", "right parry", "right riposte"] }),
      ...(index % 7 === 6 ? {} : { lamps: left ? { left: "valid" } : { right: ["valid", "fault"] } }),
      ...(index % 7 === 6 ? {} : { award: left ? "left" : "right" }),
      ...(index % 4 === 0 ? { tags: ["sulky-arm", "+worried"], note: "limps after the third" } : {}),
      ...(index % 4 === 1 ? { target: "flank" } : {}),
      ...(index % 4 === 2 ? { target: "Vessa's bruise", tags: ["semi;colon"], sure: false } : {}),
    });
    if (index === 3)
      log.push({ kind: "review", at: time(at + 4), by: "right", result: "changed", award: "none" });
    if (index === 4) log.push({ kind: "note", at: time(at + 4), text: "takes the spare foil angrily" });
  }
  return JSON.stringify({
    boutline: 1,
    bout: {
      ...{ title: "Gripping medal match", event: "Harbourlight Open", date: "2026-10-17", weapon: "foil" },
      ...{ format: "training", rules: "wheelchair-2026", video: true },
      ...about,
    },
    fencers: { left: fencers[number % 3], right: fencers[(number + 1) % 3] },
    recordings: [{ file: "lantern-camera-two.mp4" }],
    tagged: { by: "Robin Oxenmere", on: "2026-10-18" },
    log,
  });
}

export interface Folder {
  readonly place: string;
  readonly bouts: string;
  readonly out: string;
  readonly remove: () => void;
}

/** Four bouts of three weapons, one without a date and with a formula for its event, and one file that is broken. */
export function boutFolder(): Folder {
  const place = mkdtempSync(path.join(tmpdir(), "boutline-shelf-"));
  const bouts = path.join(place, "bouts");
  mkdirSync(path.join(bouts, "lantern-week"), { recursive: true });
  const write = (name: string, text: string) => writeFileSync(path.join(bouts, `${name}.bout.json`), text);
  write("harbourlight-final", boutOf(0, 24));
  write("quiet-semifinal", boutOf(1, 17, { weapon: "epee", date: "2026-03-02" }));
  write("lantern-week/harbourlight-final", boutOf(2, 9, { weapon: "sabre", event: '=HYPERLINK("x")' }));
  const undated = JSON.parse(boutOf(3, 6, { event: "'-quoted", rules: "lantern-house-rules" })) as {
    bout: { date?: string };
  };
  delete undated.bout.date;
  write("lantern-week/undated", JSON.stringify(undated));
  write("lantern-week/broken", '{ "boutline": 1, ');
  return {
    ...{ place, bouts, out: path.join(place, "out") },
    remove: () => rmSync(place, { recursive: true, force: true }),
  };
}
