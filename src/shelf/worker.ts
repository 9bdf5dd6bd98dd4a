// The thread that reads bout files: a list of files in, their rows out.

import { parentPort } from "node:worker_threads";
import { readRow } from "./read-file";

parentPort?.on("message", (files: readonly string[]) => {
  parentPort?.postMessage(files.map(readRow));
});
