// Invented bouts (test/shelf/generated.ts) for checks in the browser, which run as plain JavaScript.
import { mkdtempSync } from "node:fs";
import os from "node:os";
import path from "node:path";
import { pathToFileURL } from "node:url";
import esbuild from "esbuild";
import { checkout } from "../run/places.mjs";
import { removeAtEnd } from "../run/programs.mjs";

const folder = removeAtEnd(mkdtempSync(path.join(os.tmpdir(), "boutline-invented-")));
const outfile = path.join(folder, "generated.mjs");
await esbuild.build({
  absWorkingDir: checkout,
  entryPoints: [path.join("test", "shelf", "generated.ts")],
  bundle: true,
  outfile,
  platform: "node",
  format: "esm",
  mainFields: ["module", "main"],
});
export const { inventedBout, writeInvented } = await import(pathToFileURL(outfile).href);
