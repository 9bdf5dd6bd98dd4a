// Where things are: the checkout, its temporary output, and the workbench tree in the user's cache folder.
import { createHash } from "node:crypto";
import { existsSync, readFileSync } from "node:fs";
import os from "node:os";
import path from "node:path";

export const checkout = path.resolve(import.meta.dirname, "..", "..");
/** Temporary output of a test run; ignored by git. */
export const results = path.join(checkout, "test-results");
export const screens = path.join(results, "screens");
export const cache = path.join(process.env.XDG_CACHE_HOME || path.join(os.homedir(), ".cache"), "boutline");

const workbenchSource = path.join(checkout, "test", "workbench");

/** The VS Code server and its Node, installed once for each version of test/workbench/package-lock.json. */
export const workbenchTree = path.join(
  cache,
  `workbench-${hashOf(readFileSync(path.join(workbenchSource, "package-lock.json"))).slice(0, 16)}`,
);
export const workbenchFiles = ["package.json", "package-lock.json"].map((name) =>
  path.join(workbenchSource, name),
);

/** Programs inside a workbench tree, which may still be under its temporary name. */
export function insideTree(tree) {
  const bin = path.join(tree, "node_modules", ".bin");
  return {
    bin,
    node: path.join(bin, "node"),
    /** Holds `include/node`, the headers native parts are compiled against. */
    nodeHeaders: path.join(
      tree,
      "node_modules",
      "node",
      "node_modules",
      `${process.platform === "darwin" && process.arch === "arm64" ? "node-bin" : "node"}-${process.platform}-${process.arch}`,
    ),
    server: path.join(tree, "node_modules", "code-server", "out", "node", "entry.js"),
  };
}

export function manifest() {
  return JSON.parse(readFileSync(path.join(checkout, "package.json"), "utf8"));
}

/** The packaged extension as test runs and `npm start` make it. */
export function packagedExtension() {
  return path.join(results, `boutline-${manifest().version}.vsix`);
}

export function hashOf(content) {
  return createHash("sha256").update(content).digest("hex");
}

/** The first of these programs on PATH, as a full path, or undefined. */
export function onPath(...names) {
  const endings = process.platform === "win32" ? [".exe", ".cmd", ""] : [""];
  for (const name of names) {
    for (const folder of (process.env.PATH ?? "").split(path.delimiter)) {
      for (const ending of endings) {
        const file = path.join(folder, name + ending);
        if (folder !== "" && existsSync(file)) return file;
      }
    }
  }
  return undefined;
}
