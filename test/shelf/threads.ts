// Reading threads for the checks of the pool: the true one, and ones that come to grief as they are told.

import { writeFileSync } from "node:fs";
import path from "node:path";
import { build } from "esbuild";

/** The true thread; its place. */
export async function builtWorker(folder: string): Promise<string> {
  const outfile = path.join(folder, "worker.cjs");
  await build({
    entryPoints: ["src/shelf/worker.ts"],
    outfile,
    bundle: true,
    platform: "node",
    format: "cjs",
    mainFields: ["module", "main"],
  });
  return outfile;
}

/** A thread that answers a row for each file, but hangs at those called `hang…` and dies of those called `die…`. */
export function badWorker(folder: string): string {
  const file = path.join(folder, "bad.cjs");
  writeFileSync(
    file,
    `const { parentPort, workerData } = require("node:worker_threads"), path = require("node:path");
const progress = new Int32Array(workerData);
parentPort.on("message", (files) => {
  const rows = files.map(({ file }) => {
    const name = path.basename(file);
    if (name.startsWith("hang")) Atomics.wait(new Int32Array(new SharedArrayBuffer(4)), 0, 0);
    if (name.startsWith("die")) process.exit(3);
    if (name.startsWith("throw")) throw new Error("no more");
    Atomics.add(progress, 0, 1);
    return { is: "unreadable", file, size: 1, modified: 1, problem: "read" };
  });
  parentPort.postMessage(rows);
});`,
  );
  return file;
}
