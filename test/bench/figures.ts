// Every section of a sheet's figures, of a bout of 60 phrases and of one of 2,000, against reading, checking, counting
// and figuring the same text.

import { readBout } from "../../src/bout/read";
import { figuresOf, sheetOf } from "../../src/figures";
import { studyOf } from "../../src/rules";
import { longBout } from "./bouts";

function measured(phrases: number, rounds: number) {
  const text = longBout(phrases);
  const read = () => {
    const study = studyOf(readBout(text));
    if (study === undefined) throw new Error("the bout did not read");
    return study;
  };
  const { ledger, findings } = read();
  const whole = () => {
    sheetOf(ledger, findings);
    const figures = figuresOf(ledger);
    // Each section is worked out when it is read.
    Object.values(figures);
  };
  const times: [number[], number[]] = [[], []];
  for (let round = 0; round < 2 * rounds; round++)
    [whole, read].forEach((job, which) => {
      const start = performance.now();
      job();
      // The first half warms up.
      if (round >= rounds) times[which as 0 | 1].push(performance.now() - start);
    });
  return { figures: median(times[0]), reading: median(times[1]) };
}

function median(values: number[]): number {
  return values.toSorted((one, other) => one - other)[values.length >> 1] ?? NaN;
}

console.log(JSON.stringify({ usual: measured(60, 60), long: measured(2000, 25) }));
