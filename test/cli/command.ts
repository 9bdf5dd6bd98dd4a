// The command as built, run on files of its own.

import { spawn, type ChildProcessWithoutNullStreams } from "node:child_process";
import { copyFileSync, mkdirSync, mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import path from "node:path";
import esbuild from "esbuild";

const checkout = path.join(import.meta.dirname, "..", "..");

export interface Outcome {
  /** Null where a signal ended it. */
  readonly status: number | null;
  readonly out: string;
  readonly errors: string;
}

export interface Command {
  /** An empty folder the command runs in. */
  readonly folder: string;
  readonly write: (name: string, content: string | Uint8Array) => string;
  readonly run: (...words: readonly string[]) => Promise<Outcome>;
  /** The same, with the reader of its output gone before anything is written. */
  readonly runUnread: (...words: readonly string[]) => Promise<Outcome>;
  /** The same, where no file may grow beyond so many blocks of 512 bytes: a write then fails, as on a full disk. */
  readonly runWithin: (blocks: number, ...words: readonly string[]) => Promise<Outcome>;
  /** The same, interrupted as by Ctrl-C once `is` says so. */
  readonly runInterrupted: (is: () => boolean, ...words: readonly string[]) => Promise<Outcome>;
  readonly remove: () => void;
}

/** Builds `src/cli/main.ts` as the build does, beside a package.json, into a new temporary folder. */
export async function buildCommand(version = "9.8.7"): Promise<Command> {
  const place = mkdtempSync(path.join(tmpdir(), "boutline-cli-"));
  const built = path.join(place, "dist", "cli.js");
  const folder = path.join(place, "bouts");
  mkdirSync(folder);
  mkdirSync(path.join(place, "media"));
  for (const name of ["sheet.css", "class-agreement.css", "seminar.css"]) {
    const style = path.join("media", name);
    copyFileSync(path.join(checkout, style), path.join(place, style));
  }
  writeFileSync(path.join(place, "package.json"), JSON.stringify({ version }));
  await esbuild.build({
    absWorkingDir: checkout,
    entryPoints: ["src/viewer/seminar/seminar.ts"],
    outfile: path.join(place, "dist", "seminar.js"),
    bundle: true,
    format: "iife",
    logLevel: "silent",
  });
  await esbuild.build({
    absWorkingDir: checkout,
    entryPoints: ["src/cli/main.ts"],
    outfile: built,
    bundle: true,
    platform: "node",
    format: "cjs",
    target: "node20",
    mainFields: ["module", "main"],
    logLevel: "silent",
  });
  const start = (words: readonly string[], meddle?: (child: ChildProcessWithoutNullStreams) => void) =>
    outcomeOf(process.execPath, [built, ...words], meddle);
  const outcomeOf = (
    program: string,
    words: readonly string[],
    meddle: (child: ChildProcessWithoutNullStreams) => void = () => undefined,
  ) =>
    new Promise<Outcome>((resolve, reject) => {
      const child = spawn(program, words, { cwd: folder });
      const outcome = { out: "", errors: "" };
      meddle(child);
      child.stdout.setEncoding("utf8").on("data", (text: string) => (outcome.out += text));
      child.stderr.setEncoding("utf8").on("data", (text: string) => (outcome.errors += text));
      child.on("error", reject);
      child.on("close", (status) => resolve({ status, ...outcome }));
    });
  return {
    folder,
    write: (name, content) => {
      writeFileSync(path.join(folder, name), content);
      return name;
    },
    run: (...words) => start(words),
    runUnread: (...words) => start(words, (child) => child.stdout.destroy()),
    runWithin: (blocks, ...words) =>
      outcomeOf("sh", [
        ...["-c", `trap '' XFSZ; ulimit -f ${blocks}; exec "$@"`, "sh"],
        ...[process.execPath, built, ...words],
      ]),
    runInterrupted: (is, ...words) =>
      start(words, (child) => {
        const watch = setInterval(() => {
          if (!is()) return;
          clearInterval(watch);
          child.kill("SIGINT");
        }, 2);
        child.on("close", () => clearInterval(watch));
      }),
    remove: () => rmSync(place, { recursive: true, force: true }),
  };
}
