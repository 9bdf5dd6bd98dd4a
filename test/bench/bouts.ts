// Bout texts of any length for measuring: invented phrases in a steady mix.

import { entryText, type Json } from "../../src/bout/edit";
import { formatTime, type Milliseconds } from "../../src/bout/time";

/** A bout file of `phrases` phrases, five seconds apart, with cards, reviews, boards and poses strewn in. */
export function longBout(phrases: number, recording?: string): string {
  const log: Json[] = [
    {
      kind: "fit",
      at: "0:00:00.000",
      points: [
        { image: [0.2, 0.9], floor: [-2, 0] },
        { image: [0.8, 0.9], floor: [2, 0] },
        { image: [0.7, 0.7], floor: [2, 1] },
        { image: [0.3, 0.7], floor: [-2, 1] },
      ],
    },
  ];
  const time = (ms: number) => formatTime(ms as Milliseconds);
  for (let index = 0; index < phrases; index++) {
    const at = 1000 + index * 5000;
    const left = index % 3 !== 0;
    if (index % 10 === 0) {
      const creep = (index % 200) * 0.0001;
      log.push({
        kind: "platforms",
        at: time(at - 500),
        left: [
          [0.4 + creep, 0.82],
          [0.3 + creep, 0.82],
        ],
        right: [
          [0.6 + creep, 0.82],
          [0.7 + creep, 0.82],
        ],
      });
    }
    log.push({
      kind: "phrase",
      start: time(at),
      halt: time(at + 2400),
      actions: left ? ["left attack"] : ["left attack", "right parry", "right riposte"],
      lamps: left ? { left: "valid" } : { right: "valid" },
      award: left ? "left" : "right",
      ...(index % 4 === 0 ? { target: "flank" } : {}),
    });
    if (index % 50 === 20) log.push({ kind: "note", at: time(at + 3000), text: "tired now" });
    if (index % 200 === 60)
      log.push({
        kind: "stop",
        at: time(at + 3000),
        until: time(at + 3400),
        for: ["re-centre"],
        by: "referee",
      });
  }
  const lines = log.map((entry) => `    ${entryText(entry)}`).join(",\n");
  return `{
  "boutline": 1,
  "bout": { "title": "Bench", "weapon": "foil", "format": "training", "rules": "wheelchair-2026", "video": true },
  "fencers": { "left": { "name": "Vessa Tarn" }, "right": { "name": "Kel Odrey" } },
  "recordings": [${recording === undefined ? "" : entryText({ file: recording })}],
  "log": [\n${lines}\n  ]\n}\n`;
}
