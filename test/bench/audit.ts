// The findings of a bout of 2,000 phrases after one edit, against the ledger alone; and what absurd logs take.

import { EntryCache } from "../../src/bout/entry-cache";
import { readBout } from "../../src/bout/read";
import { findingsOf, ledger, studyOf, type Ledger } from "../../src/rules";
import { longBout } from "./bouts";

const rounds = 60;
const text = longBout(2000);
const cache = new EntryCache();

/** The text after an edit in the middle: a halt a little later, another one each time. */
function edited(round: number): string {
  const place = text.indexOf('"halt"', text.length >> 1);
  const time = text.indexOf(".", place);
  return `${text.slice(0, time + 1)}${String(400 + (round % 500))}${text.slice(time + 4)}`;
}

const median = (values: number[]) => values.toSorted((one, other) => one - other)[values.length >> 1] ?? NaN;

function measured(round: number): { fold: number; audit: number; both: number } {
  const reading = readBout(edited(round), cache);
  const study = studyOf(reading);
  if (study === undefined) throw new Error("the bout did not read");
  const { bout, edition } = study;
  const count = (): Ledger => ledger(bout, edition);
  let start = performance.now();
  count();
  const fold = performance.now() - start;
  // A ledger nothing is known of yet, as after an edit.
  const fresh = count();
  start = performance.now();
  findingsOf(fresh);
  const audit = performance.now() - start;
  start = performance.now();
  findingsOf(count());
  const both = performance.now() - start;
  return { fold, audit, both };
}

for (let round = 0; round < 30; round++) measured(round);
const times = Array.from({ length: rounds }, (_, round) => measured(round + 30));

/** Milliseconds to count and audit a log of `count` entries made by `entryAt`. */
function absurd(count: number, entryAt: (index: number) => string): number {
  const log = Array.from({ length: count }, (_, index) => entryAt(index)).join(",\n");
  const reading = readBout(
    `{ "boutline": 1, "bout": { "weapon": "foil", "format": "elimination", "rules": "fie-2026" },
    "fencers": { "left": { "name": "Tarn" }, "right": { "name": "Odrey" } }, "log": [${log}] }`,
  );
  if (reading.bout?.log.length !== count) throw new Error("the log did not read");
  const start = performance.now();
  studyOf(reading);
  return performance.now() - start;
}

const card = () => '{ "kind": "card", "at": "0:00:01.000", "to": "left", "card": "red", "group": 2 }';
const review = (index: number) =>
  index === 0
    ? '{ "kind": "phrase", "start": "0:00:01.000", "halt": "0:00:02.000", "award": "left" }'
    : '{ "kind": "review", "at": "0:00:03.000", "by": "referee", "result": "kept" }';

console.log(
  JSON.stringify({
    fold: median(times.map(({ fold }) => fold)),
    audit: median(times.map(({ audit }) => audit)),
    both: median(times.map(({ both }) => both)),
    cards: [absurd(5000, card), absurd(10_000, card)],
    reviews: [absurd(30_000, review), absurd(60_000, review)],
  }),
);
