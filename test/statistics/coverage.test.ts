// Of 100 limits at 95 %, how many hold the truth? Simulated bouts with known chances, seeded.

import { expect, test } from "vitest";
import {
  clopperPearsonInterval,
  cohensKappa,
  fleissKappa,
  krippendorffsAlpha,
  medianInterval,
  pairedDifference,
  rateRatio,
  seededRandom,
  shareDifference,
  wilsonInterval,
  type Interval,
} from "../../src/statistics";

const random = seededRandom(7);
const buffer = new Uint32Array(1);
function uniform(): number {
  random(buffer);
  return (buffer[0] ?? 0) / 2 ** 32;
}
function hits(of: number, chance: number): number {
  let count = 0;
  for (let one = 0; one < of; one++) if (uniform() < chance) count++;
  return count;
}
/** How many of each kind, of `of` cases with these chances; the rest is the last kind. */
function kinds(of: number, chances: readonly number[]): number[] {
  const counts = [...chances.map(() => 0), 0];
  for (let one = 0; one < of; one++) {
    let left = uniform();
    const kind = chances.findIndex((chance) => (left -= chance) < 0);
    const place = kind === -1 ? chances.length : kind;
    counts[place] = (counts[place] ?? 0) + 1;
  }
  return counts;
}
/** Events of a Poisson process in a time in which `mean` are expected. */
function events(mean: number): number {
  let count = -1;
  for (let product = 1; product > Math.exp(-mean); count++) product *= 1 - uniform();
  return count;
}

/** Share of simulated limits that hold the truth; null limits are left out. */
function held(
  times: number,
  truth: number,
  limits: () => Partial<Record<keyof Interval, number | null>>,
): number {
  let count = 0;
  let of = 0;
  for (let one = 0; one < times; one++) {
    const { low, high } = limits();
    if (low === undefined || low === null || high === undefined || high === null) continue;
    of++;
    if (low <= truth && truth <= high) count++;
  }
  expect(of).toBeGreaterThan(times * 0.9);
  return count / of;
}

const mean = (values: readonly number[]) => values.reduce((sum, value) => sum + value, 0) / values.length;
const chances = [0.1, 0.25, 0.4, 0.5, 0.7];

test("Wilson's hold a share about 95 times, Clopper and Pearson's never less", () => {
  const wilson = chances.map((chance) => held(3000, chance, () => wilsonInterval(hits(25, chance), 25)));
  expect(mean(wilson)).toBeGreaterThan(0.94);
  expect(mean(wilson)).toBeLessThan(0.97);
  // A single share may fall a little short: Wilson limits are right on average (Brown, Cai and DasGupta 2001).
  expect(Math.min(...wilson)).toBeGreaterThan(0.91);
  for (const chance of chances)
    expect(held(3000, chance, () => clopperPearsonInterval(hits(12, chance), 12))).toBeGreaterThan(0.942);
});

test("Newcombe's hold a difference of two shares about 95 times", () => {
  const found = [0, 0.1, 0.2, 0.3].map((apart) =>
    held(3000, apart, () =>
      shareDifference({ count: hits(25, 0.3 + apart), of: 25 }, { count: hits(18, 0.3), of: 18 }),
    ),
  );
  expect(Math.min(...found)).toBeGreaterThan(0.935);
  expect(mean(found)).toBeLessThan(0.975);
});

test("the net of touches for and against is held about 95 times, with doubles and without", () => {
  const found = [
    [0, 0.4, 0.28],
    [0, 0.5, 0.07],
    [0, 0.2, 0.2],
    [0.15, 0.3, 0.2],
  ].map((chance) =>
    held(3000, (chance[1] ?? 0) - (chance[2] ?? 0), () => {
      const [both = 0, first = 0, second = 0, neither = 0] = kinds(25, chance);
      return pairedDifference({ both, first, second, neither });
    }),
  );
  expect(Math.min(...found)).toBeGreaterThan(0.93);
  expect(mean(found)).toBeLessThan(0.98);
});

test("a ratio of rates is held no less than 95 times", () => {
  for (const ratio of [1, 2])
    expect(
      held(2000, ratio, () => {
        const [count, other] = [events(8 * ratio), events(6)];
        if (count + other === 0) return { low: null, high: null };
        return rateRatio({ count, time: 8 }, { count: other, time: 6 });
      }),
    ).toBeGreaterThan(0.942);
});

test("kappa of two taggers is held about 94 times by its large-sample limits from 60 phrases", () => {
  // Both say one of three words; they agree in 80 of 100 phrases.
  const joint = [
    [0.4, 0.05, 0.03],
    [0.05, 0.25, 0.02],
    [0.03, 0.02, 0.15],
  ];
  const rows = joint.map((row) => row.reduce((sum, share) => sum + share, 0));
  const chance = rows.reduce((sum, share) => sum + share * share, 0);
  const truth = (0.8 - chance) / (1 - chance);
  const found = held(3000, truth, () => {
    const counts = kinds(60, joint.flat().slice(0, 8));
    return cohensKappa([counts.slice(0, 3), counts.slice(3, 6), counts.slice(6, 9)]);
  });
  expect(found).toBeGreaterThan(0.92);
  expect(found).toBeLessThan(0.97);
});

test("kappa near 1 is held no less: its lower limit from cases all alike is exact", () => {
  const found = held(3000, 0.96, () => {
    const [one = 0, other = 0, apart = 0] = kinds(30, [0.49, 0.49]);
    return cohensKappa([
      [one, apart],
      [0, other],
    ]);
  });
  expect(found).toBeGreaterThan(0.92);
});

/**
 * Cases whose right word is one of three, answered by readers who say it with the chance `right`, else one of the others;
 * what they agree on beyond chance in the long run.
 */
function readersWho(right: number) {
  const words = [0.4, 0.35, 0.25];
  const said = words.map((_, truth) => words.map((__, word) => (word === truth ? right : (1 - right) / 2)));
  const total = (values: readonly number[]) => values.reduce((sum, value) => sum + value, 0);
  const same = total(words.map((share, truth) => share * total((said[truth] ?? []).map((one) => one * one))));
  const used = words.map((_, word) => total(words.map((share, truth) => share * (said[truth]?.[word] ?? 0))));
  const truth = 1 - (1 - same) / (1 - total(used.map((share) => share * share)));
  const cases = (count: number, readers: number) =>
    Array.from({ length: count }, () => {
      const drawn = uniform();
      const word = drawn < 0.4 ? 0 : drawn < 0.75 ? 1 : 2;
      return Array.from({ length: readers }, () => {
        const chance = uniform();
        const off = chance < right ? 0 : chance < (1 + right) / 2 ? 1 : 2;
        return String((word + off) % 3);
      });
    });
  return { truth, cases };
}

test("alpha and Fleiss' kappa of a class are held 9 times of 10 and more, from a dozen clips on", () => {
  const alpha: number[] = [];
  const kappa: number[] = [];
  for (const right of [0.6, 0.75, 0.9])
    for (const [count, readers] of [
      [12, 3],
      [12, 12],
      [30, 6],
    ] as const) {
      const { truth, cases } = readersWho(right);
      alpha.push(held(120, truth, () => krippendorffsAlpha(cases(count, readers))));
      kappa.push(
        held(120, truth, () =>
          fleissKappa(
            cases(count, readers).map((given) =>
              ["0", "1", "2"].map((word) => given.filter((one) => one === word).length),
            ),
          ),
        ),
      );
    }
  expect(mean(alpha)).toBeGreaterThan(0.93);
  expect(mean(alpha)).toBeLessThan(0.985);
  expect(Math.min(...alpha)).toBeGreaterThan(0.85);
  expect(mean(kappa)).toBeGreaterThan(0.9);
  expect(Math.min(...kappa)).toBeGreaterThan(0.8);
}, 240_000);

test("a median is held no less than 95 times, whatever the shape", () => {
  expect(
    held(3000, Math.log(2), () => medianInterval(Array.from({ length: 20 }, () => -Math.log(1 - uniform())))),
  ).toBeGreaterThan(0.942);
});
