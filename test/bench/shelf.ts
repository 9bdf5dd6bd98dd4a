// How long does the shelf take against a bare reading of the same files? Prints one JSON object a size.
//   node shelf.cjs WORKER FOLDER SIZE...
//   node shelf.cjs write FOLDER BOUTS FENCERS     only writes invented bouts
// Bare is each file's bytes read and JSON.parse-d by as many threads as the index uses, handed out the same way; the files
// hold plain JSON. Both are done in turns, and the quickest of each counts: whatever else the machine does only slows.

import { appendFileSync, mkdirSync, rmSync, writeFileSync } from "node:fs";
import path from "node:path";
import { availableParallelism } from "node:os";
import { Worker } from "node:worker_threads";
import { Shelf } from "../../src/shelf/shelf";
import { writeInvented } from "../shelf/generated";

const [worker = "", folder = "", ...sizes] = process.argv.slice(2);
const rounds = 5;

/** Milliseconds: by the clock, and of all cores. */
interface Taken {
  readonly wall: number;
  readonly cpu: number;
}

async function measure(bouts: number): Promise<object> {
  const within = path.join(folder, `shelf-${bouts}`);
  rmSync(within, { recursive: true, force: true });
  mkdirSync(within, { recursive: true });
  try {
    const files = writeInvented(path.join(within, "bouts"), { bouts, fencers: Math.max(10, bouts / 10) });
    const cache = { file: path.join(within, "shelf.json"), version: "bench" };
    const open = () => new Shelf({ folders: [path.join(within, "bouts")], worker, cache });
    // Once before, so that both find the files in the same state of the machine's own cache.
    await bare(files);
    const before = process.memoryUsage.rss();
    const [bares, firsts, recalls, warms] = [[], [], [], []] as [Taken[], Taken[], Taken[], Taken[]];
    let shelf = open();
    let most = 0;
    const watch = setInterval(() => (most = Math.max(most, process.memoryUsage.rss())), 5);
    for (let round = 0; round < rounds; round++) {
      bares.push(await time(() => bare(files)));
      rmSync(cache.file, { force: true });
      shelf = open();
      firsts.push(await time(() => shelf.refresh()));
      if (shelf.bouts.length !== bouts) throw new Error(`${shelf.bouts.length} bouts of ${bouts}`);
      await shelf.save();
      for (let again = 0; again < 2; again++) {
        const warm = open();
        const recall = await time(() => warm.recall());
        if (warm.rows.length !== bouts) throw new Error(`${warm.rows.length} rows of ${bouts} recalled`);
        const refresh = await time(() => warm.refresh());
        recalls.push(recall);
        warms.push({ wall: recall.wall + refresh.wall, cpu: recall.cpu + refresh.cpu });
        if (warm.rows.length !== bouts) throw new Error(`${warm.rows.length} rows of ${bouts}`);
      }
    }
    clearInterval(watch);
    const changes: number[] = [];
    for (let round = 0; round < 5; round++) {
      const file = files[round * 7] ?? "";
      appendFileSync(file, " ");
      changes.push((await time(() => shelf.changed([file]))).wall);
    }
    const spoilt = await withBroken(
      files,
      () => new Shelf({ folders: [path.join(within, "bouts")], worker }),
    );
    return {
      spoilt,
      bouts,
      bare: quickest(bares),
      first: quickest(firsts),
      recall: quickest(recalls),
      warm: quickest(warms),
      change: Math.max(...changes),
      megabytes: most / 1e6,
      grown: (most - before) / 1e6,
    };
  } finally {
    rmSync(within, { recursive: true, force: true });
  }
}

/** One file in a hundred broken, in turn by each of these ways: all of them must be told, and nothing else is lost. */
const waysToBreak = ["", "{", "dear diary", Buffer.from([0xff, 0xfe, 0x7b, 0x00]), Buffer.alloc(4096)];

async function withBroken(files: readonly string[], open: () => Shelf): Promise<object> {
  const broken = new Set(files.filter((_, index) => index % 100 === 50));
  const before = open();
  await before.refresh();
  for (const [index, file] of [...broken].entries()) writeFileSync(file, waysToBreak[index % 5] ?? "");
  const after = open();
  const { wall } = await time(() => after.refresh());
  const rows = new Map(after.rows.map((row) => [row.file, row]));
  const told = [...broken].filter((file) => {
    const row = rows.get(file);
    return row?.is === "unreadable" && row.problem !== "";
  });
  const right = before.rows.filter(
    (row) => !broken.has(row.file) && JSON.stringify(rows.get(row.file)) === JSON.stringify(row),
  );
  return { files: broken.size, told: told.length, right: right.length, wall };
}

async function time(work: () => Promise<unknown>): Promise<Taken> {
  const cpu = process.cpuUsage();
  const from = performance.now();
  await work();
  const wall = performance.now() - from;
  const { user, system } = process.cpuUsage(cpu);
  return { wall, cpu: (user + system) / 1000 };
}

const reader = `const { parentPort } = require("node:worker_threads"), { readFileSync } = require("node:fs");
parentPort.on("message", (files) => {
  for (const file of files) JSON.parse(readFileSync(file, "utf8"));
  parentPort.postMessage(files.length);
});`;

async function bare(files: readonly string[]): Promise<void> {
  let next = 0;
  const threads = Math.min(4, availableParallelism(), Math.ceil(files.length / 32));
  await Promise.all(
    Array.from({ length: threads }, async () => {
      const thread = new Worker(reader, { eval: true });
      while (next < files.length) {
        const given = files.slice(next, (next += 32));
        thread.postMessage(given);
        await new Promise((resolve) => thread.once("message", resolve));
      }
      await thread.terminate();
    }),
  );
}

function quickest(taken: readonly Taken[]): Taken {
  return {
    wall: Math.min(...taken.map(({ wall }) => wall)),
    cpu: Math.min(...taken.map(({ cpu }) => cpu)),
  };
}

void (async () => {
  if (worker === "write") {
    const [bouts, fencers] = sizes.map(Number);
    writeInvented(folder, { bouts: bouts ?? 0, fencers: fencers ?? 2 });
    return;
  }
  for (const size of sizes) console.log(JSON.stringify(await measure(Number(size))));
})();
