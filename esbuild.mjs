// Builds dist/ from src/ (npm run build), and dist/suite.js from test/suite/.
//   node esbuild.mjs           what ships: minified
//   node esbuild.mjs --dev     readable, with source maps
//   node esbuild.mjs --watch   the same, again after every change
//
// Host and command line load a heavy part when it is first needed by a dynamic import, `await import("../video/index")`.
// Such a part becomes a file of its own, dist/video.js, and may do the same again. Each file has its own copy of the
// modules it shares with others, so a module that holds state or a class tested by `instanceof` must not be on both sides.
import {
  chmodSync,
  copyFileSync,
  existsSync,
  mkdirSync,
  readFileSync,
  readdirSync,
  rmSync,
  statSync,
  writeFileSync,
} from "node:fs";
import path from "node:path";
import esbuild from "esbuild";

const root = import.meta.dirname;
const source = path.join(root, "src");
const output = path.join(root, "dist");
const watch = process.argv.includes("--watch");
const readable = watch || process.argv.includes("--dev");

const entries = [
  { name: "extension", file: "src/host/extension.ts", side: "node" },
  { name: "cli", file: "src/cli/main.ts", side: "node", banner: "#!/usr/bin/env node" },
  // A thread, started by its file.
  { name: "query-worker", file: "src/shelf/query-worker.ts", side: "node" },
  { name: "viewer", file: "src/viewer/main.ts", side: "page" },
  // A thread's script is a file of its own; shelf/pool.ts is given its place.
  { name: "shelf-worker", file: "src/shelf/worker.ts", side: "node" },
  { name: "brief-worker", file: "src/shelf/brief-worker.ts", side: "node" },
  { name: "brief", file: "src/viewer/brief/brief.ts", side: "page" },
  { name: "sheet", file: "src/viewer/sheet.ts", side: "page" },
  { name: "seminar", file: "src/viewer/seminar/seminar.ts", side: "page" },
];

const sides = {
  node: {
    platform: "node",
    format: "cjs",
    // Oldest Node it runs on: that of the command line, and of the oldest VS Code supported.
    target: "node20",
    external: ["vscode"],
    mainFields: ["module", "main"],
    // A dynamic import becomes a require, which VS Code patches to hand out `vscode`; a true import would pass it by.
    supported: { "dynamic-import": false },
    // Otherwise esbuild can't tell which of its two copies fluent-ffmpeg requires.
    // SQLite asks where it lies before it sees that it is given its binary.
    define: {
      "process.env.FLUENTFFMPEG_COV": "undefined",
      "import.meta.url": '"file:///sqlite3.mjs"',
    },
  },
  page: { platform: "browser", format: "iife", target: "es2022", mainFields: ["browser", "module", "main"] },
};

/** name of a file in dist/ -> how its build went; also the list of what has been started. */
const builds = new Map();

async function build({ name, file, contents, side, banner }) {
  if (builds.has(name)) return;
  builds.set(name, undefined);
  if (file !== undefined && !existsSync(path.join(root, file))) {
    console.warn(`Skipped dist/${name}.js: there is no ${file}.`);
    return;
  }
  const context = await esbuild.context({
    absWorkingDir: root,
    ...(contents === undefined
      ? { entryPoints: [file] }
      : {
          stdin: {
            contents,
            resolveDir: path.join(root, "test", "suite"),
            sourcefile: "suite.ts",
            loader: "ts",
          },
        }),
    outfile: path.join(output, `${name}.js`),
    bundle: true,
    metafile: true,
    minify: !readable,
    sourcemap: readable ? "linked" : false,
    legalComments: "none",
    logLevel: "warning",
    ...(banner === undefined ? {} : { banner: { js: banner } }),
    ...sides[side],
    plugins: [
      ...(side === "node" ? [partsLoadedLater] : []),
      { name: "finish", setup: (b) => b.onEnd(finish(name)) },
    ],
  });
  try {
    await context.rebuild();
  } catch {
    // esbuild has told the errors; the others are built all the same.
  }
  if (watch) await context.watch();
  else await context.dispose();
}

const partsStarted = [];
const partsLoadedLater = {
  name: "parts-loaded-later",
  setup(plugin) {
    plugin.onResolve({ filter: /^\./ }, async ({ path: target, kind, resolveDir, importer, pluginData }) => {
      if (kind !== "dynamic-import" || pluginData === "resolving") return undefined;
      const { path: file, errors } = await plugin.resolve(target, {
        kind,
        resolveDir,
        importer,
        pluginData: "resolving",
      });
      if (errors.length > 0) return { errors };
      const inside = path.relative(source, file);
      if (inside.startsWith("..")) return undefined;
      const name = inside.replace(/(\/index)?\.tsx?$/, "").replaceAll(path.sep, "-");
      partsStarted.push(build({ name, file: path.relative(root, file), side: "node" }));
      return { path: `./${name}.js`, external: true };
    });
  },
};

function finish(name) {
  return (result) => {
    builds.set(name, result);
    if (name === "cli" && result.errors.length === 0) chmodSync(path.join(output, "cli.js"), 0o755);
    if (watch)
      console.log(`${new Date().toLocaleTimeString()} dist/${name}.js: ${result.errors.length} errors`);
  };
}

/** Registers every suite there is, so that none can be forgotten. */
function suiteEntry() {
  const suites = readdirSync(path.join(root, "test", "suite"), { recursive: true })
    .filter((file) => file.endsWith(".suite.ts"))
    .sort();
  const imports = suites.map((file) => `import "./${file.replaceAll(path.sep, "/")}";`);
  return [...imports, 'export { run } from "./run";'].join("\n");
}

function reportSizes() {
  const built = [...builds].filter(([, result]) => result !== undefined && result.errors.length === 0);
  for (const [name] of built) {
    const kilobytes = statSync(path.join(output, `${name}.js`)).size / 1024;
    console.log(`dist/${`${name}.js`.padEnd(16)} ${kilobytes.toFixed(1).padStart(8)} KB`);
  }
}

/** The licences of the packages bundled into what ships, which ask to be passed on. */
function writeNotices() {
  const shipped = [...builds].filter(([name, result]) => name !== "suite" && result !== undefined);
  const packages = new Set();
  for (const [, { metafile }] of shipped) {
    for (const { inputs } of Object.values(metafile.outputs)) {
      for (const [input, { bytesInOutput }] of Object.entries(inputs)) {
        const found = /^(.*node_modules\/(?:@[^/]+\/)?[^/]+)\//.exec(input);
        if (found && bytesInOutput > 0) packages.add(found[1]);
      }
    }
  }
  // Packages of one family have the same text, which then stands once.
  const bearers = new Map();
  for (const folder of [...packages].sort()) {
    const { name, version, license } = JSON.parse(
      readFileSync(path.join(root, folder, "package.json"), "utf8"),
    );
    const words = readdirSync(path.join(root, folder))
      .filter((file) => /^(licen[cs]e|notice)/i.test(file))
      .map((file) => readFileSync(path.join(root, folder, file), "utf8").trim())
      .join("\n\n");
    bearers.set(words, [...(bearers.get(words) ?? []), `${name} ${version} (${license})`]);
  }
  // Some of the licences (MPL) want it said where the source is to be had.
  const source =
    "Boutline contains the packages below, unchanged. The source of each is published in the npm registry under its name and version: npm pack NAME@VERSION.\n\n----------------------------------------\n\n";
  writeFileSync(
    path.join(output, "NOTICES.txt"),
    source +
      [...bearers]
        .map(([words, names]) => `${names.join("\n")}\n\n${words}\n`)
        .join("\n----------------------------------------\n\n"),
  );
}

rmSync(output, { recursive: true, force: true });
mkdirSync(output);
copyFileSync(
  path.join(root, "node_modules", "@sqlite.org", "sqlite-wasm", "sqlite-wasm", "jswasm", "sqlite3.wasm"),
  path.join(output, "sqlite3.wasm"),
);
for (const entry of entries) await build(entry);
await build({ name: "suite", contents: suiteEntry(), side: "node" });
for (let done = 0; done < partsStarted.length; done += 1) await partsStarted[done];
const broken = [...builds].filter(([, result]) => result !== undefined && result.errors.length > 0);
if (broken.length === 0) {
  writeNotices();
  reportSizes();
}
if (!watch) process.exitCode = broken.length === 0 ? 0 : 1;
