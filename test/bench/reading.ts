// Reading, checking, counting and figuring a bout of 2,000 phrases, against jsonc-parser's parseTree of the same text.

import { parseTree } from "jsonc-parser";
import { readBout } from "../../src/bout/read";
import { sheetOf } from "../../src/figures";
import { sheetPage } from "../../src/pages";
import { studyOf } from "../../src/rules";
import { longBout } from "./bouts";

const text = longBout(2000);

function whole(): void {
  const study = studyOf(readBout(text));
  if (study === undefined) throw new Error("the bout did not read");
  sheetOf(study.ledger, study.findings);
}

/** Milliseconds of each of two jobs, taken in turns so that whatever else the machine does falls on both. */
function inTurns(one: () => void, other: () => void, rounds: number): [number[], number[]] {
  const times: [number[], number[]] = [[], []];
  for (let round = 0; round < rounds; round++)
    [one, other].forEach((job, which) => {
      const start = performance.now();
      job();
      times[which as 0 | 1].push(performance.now() - start);
    });
  return times;
}

const median = (values: number[]) => values.toSorted((one, other) => one - other)[values.length >> 1] ?? NaN;

inTurns(whole, () => parseTree(text), 10);
const study = studyOf(readBout(text));
if (study === undefined) throw new Error("the bout did not read");
const { ledger } = study;
const figures = sheetOf(ledger, study.findings);
const [page] = inTurns(
  () => sheetPage(figures, ledger),
  () => parseTree(text),
  30,
);
const [ours, parsed] = inTurns(whole, () => parseTree(text), 60);
console.log(
  JSON.stringify({
    characters: text.length,
    ours: median(ours),
    page: median(page),
    parseTree: median(parsed),
    ratio: median(ours) / median(parsed),
  }),
);
