// What many bouts take: the index of a folder, a brief, an export and a query, each by what ships in dist/.

import { mkdirSync, mkdtempSync, rmSync } from "node:fs";
import { loadavg, tmpdir } from "node:os";
import path from "node:path";
import { checkout } from "../run/places.mjs";
import { run } from "../run/programs.mjs";

const sizes = [300, 1000, 3000, 10_000];
const dist = (file) => path.join(checkout, "dist", file);

/** `bundle` makes a script of a file of this folder; `row` takes what was measured, in words, the limit and whether it
 * was met. */
export async function shelfBench(row, bundle) {
  await good("npm", ["run", "--silent", "build"]);
  const folder = mkdtempSync(path.join(tmpdir(), "boutline-bench-"));
  const script = await bundle("shelf.ts");
  try {
    console.log(`load on the machine at the start: ${loadavg()[0].toFixed(1)}`);
    const measured = [];
    for (const size of sizes) {
      const one = JSON.parse(await good(process.execPath, [script, dist("shelf-worker.js"), folder, size]));
      measured.push(one);
      indexRows(row, one);
    }
    growth(row, measured);
    await programs(row, folder, script);
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}

function indexRows(row, { bouts, bare, first, recall, warm, change, grown, spoilt }) {
  const of = `${bouts.toLocaleString("en")} bouts`;
  const ratio = first.wall / bare.wall;
  row(
    `first index of ${of}`,
    `${ratio.toFixed(2)} times a bare read and JSON.parse (${ms(first.wall)} against ${ms(bare.wall)}; of all cores ${(first.cpu / bare.cpu).toFixed(2)} times, ${ms(first.cpu)} against ${ms(bare.cpu)})`,
    "at most 3 times",
    ratio <= 3,
  );
  for (const [what, { wall }] of [
    [`warm start with ${of}, until they can be shown`, recall],
    [`warm start with ${of}, until every file was looked at`, warm],
  ])
    row(
      what,
      `1/${(first.wall / wall).toFixed(1)} of the first index (${ms(wall)})`,
      "at most 1/20",
      wall <= first.wall / 20,
    );
  row(`one changed file among ${of}`, ms(change), "under 200 ms", change < 200);
  row(`memory for ${of}`, `${grown.toFixed(0)} MB more`, "under 500 MB", grown < 500);
  row(
    `the same with ${spoilt.files} files broken`,
    `${spoilt.told} told with a reason, ${spoilt.right} as before, in ${ms(spoilt.wall)}`,
    "each of them",
    spoilt.told === spoilt.files && spoilt.right === bouts - spoilt.files,
  );
}

function growth(row, measured) {
  const each = measured.map(({ bouts, first }) => first.wall / bouts);
  const ratio = each.at(-1) / each[0];
  const list = measured.map(({ bouts }, index) => `${(each[index] * 1000).toFixed(0)} us at ${bouts}`);
  row(
    "growth of the first index: time for a bout at the most bouts",
    `${ratio.toFixed(2)} times that at the fewest (${list.join(", ")})`,
    "at most 1.5 times",
    ratio <= 1.5,
  );
}

/** As a person starts them: the time of the whole program counts. */
async function programs(row, folder, script) {
  const made = async (name, bouts, fencers) => {
    const place = path.join(folder, name);
    mkdirSync(place);
    await good(process.execPath, [script, "write", place, bouts, fencers]);
    return place;
  };
  const season = await made("season", 100, 2);
  const html = path.join(folder, "brief.html");
  const brief = await quickest(() => cli("brief", "--fencer", "f0", season, "--html", html, "--force"));
  row("brief over 100 bouts, from files to page", ms(brief), "under 1 s", brief < 1000);

  const many = await made("many", 167, 40);
  for (const format of ["csv", "jsonl", "parquet"]) {
    const out = path.join(folder, format);
    const taken = await quickest(() => cli("export", many, "--out", out, "--format", format, "--force"));
    const rate = (167 * 60) / (taken / 1000);
    row(
      `export of ${(167 * 60).toLocaleString("en")} phrases as ${format}`,
      `${Math.round(rate).toLocaleString("en")} rows a second (${ms(taken)})`,
      "at least 5,000",
      rate >= 5000,
    );
  }

  const few = await made("few", 30, 40);
  const sql =
    "select opener, count(*) as phrases, sum(award = opener) as touches from phrases group by opener";
  const query = await quickest(() => cli("query", sql, few));
  row("a query over 30 bouts, with the start of the program", ms(query), "at most 1 s", query <= 1000);
}

const cli = (...words) => good(process.execPath, [dist("cli.js"), ...words]);

async function good(program, words) {
  const { ok, output } = await run(program, words.map(String), { cwd: checkout, quiet: true });
  if (!ok) throw new Error(output);
  return output;
}

/** Of five: whatever else the machine does only slows. */
async function quickest(work) {
  let least = Infinity;
  for (let round = 0; round < 5; round++) {
    const from = performance.now();
    await work();
    least = Math.min(least, performance.now() - from);
  }
  return least;
}

const ms = (milliseconds) => `${milliseconds.toFixed(milliseconds < 100 ? 1 : 0)} ms`;
