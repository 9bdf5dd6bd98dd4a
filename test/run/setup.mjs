// Makes a machine that has only Node 20 and npm ready to build and test: npm packages, Chromium, ffmpeg, and the
// VS Code server with the Node and the compilers it needs. Doing it again costs a second.
import { copyFileSync, existsSync, mkdirSync, readFileSync, readdirSync, renameSync, rmSync } from "node:fs";
import path from "node:path";
import { pathToFileURL } from "node:url";
import { cache, checkout, hashOf, insideTree, onPath, workbenchFiles, workbenchTree } from "./places.mjs";
import { cleanEnvironment, interrupted, removeAtEnd, run } from "./programs.mjs";
import { inTurn } from "./turn.mjs";

/** Names to look for on PATH, and the Debian packages that bring them. */
const systemPrograms = {
  chromium: {
    names: ["chromium", "chromium-browser", "google-chrome"],
    packages: ["chromium", "fonts-dejavu-core"],
  },
  ffmpeg: { names: ["ffmpeg"], packages: ["ffmpeg"] },
  ffprobe: { names: ["ffprobe"], packages: ["ffmpeg"] },
};
const compilers = {
  python3: { names: ["python3"], packages: ["python3"] },
  make: { names: ["make"], packages: ["make"] },
  "g++": { names: ["g++"], packages: ["g++"] },
  "pkg-config": { names: ["pkg-config"], packages: ["pkg-config"] },
  "the Kerberos headers": { names: ["krb5-config"], packages: ["libkrb5-dev"] },
};

/** A need of the set-up that only the user can meet; its message names what to install. */
export class SetupProblem extends Error {}

export function chromium() {
  return process.env.BOUTLINE_CHROMIUM || onPath(...systemPrograms.chromium.names);
}

/** Everything `npm test` needs; somebody who looks on with a browser of their own can do without Chromium. */
export async function setUp({ withChromium = true } = {}) {
  await setUpPackages();
  const { chromium, ...others } = systemPrograms;
  await setUpPrograms({
    ...others,
    ...(withChromium ? { chromium } : {}),
    ...(existsSync(workbenchTree) ? {} : compilers),
  });
  await setUpWorkbench();
}

/** The packages of package-lock.json, exactly; nothing is done when they are there already. */
export async function setUpPackages() {
  if (packagesAreCurrent()) return;
  await inTurn(path.join(cache, `packages-${hashOf(checkout).slice(0, 16)}.turn`), async () => {
    if (packagesAreCurrent()) return;
    console.log("Installing the npm packages ...");
    const { ok } = await run("npm", ["ci", "--no-audit", "--no-fund"], {
      cwd: checkout,
      deadlineSeconds: 900,
    });
    if (!ok) throw new SetupProblem("npm ci failed; see its output above.");
  });
}

async function setUpPrograms(wanted) {
  const missing = () =>
    Object.entries(wanted).filter(
      ([what, { names }]) =>
        onPath(...names) === undefined && !(what === "chromium" && chromium() !== undefined),
    );
  if (missing().length === 0) return;
  await inTurn(path.join(cache, "programs.turn"), async () => {
    const absent = missing();
    if (absent.length === 0) return;
    const packages = [...new Set(absent.flatMap(([, { packages }]) => packages))];
    const wish =
      `Missing: ${absent.map(([what]) => what).join(", ")}.\n` +
      `On Debian or Ubuntu install them with:\n  apt-get install ${packages.join(" ")}`;
    const asRoot = await rootPrefix();
    if (asRoot === undefined || onPath("apt-get") === undefined) throw new SetupProblem(wish);
    console.log(`Installing ${packages.join(", ")} ...`);
    const apt = async (...args) => {
      const [command, ...rest] = [...asRoot, "apt-get", "-q", "-o", "DPkg::Lock::Timeout=300", ...args];
      return run(command, rest, {
        deadlineSeconds: 1200,
        env: cleanEnvironment({ DEBIAN_FRONTEND: "noninteractive" }),
      });
    };
    await apt("update");
    const { ok } = await apt("install", "-y", "--no-install-recommends", ...packages);
    if (!ok || missing().length > 0) throw new SetupProblem(wish);
  });
}

/** What to put before a command to run it as root, or undefined when we may not. */
async function rootPrefix() {
  if (process.getuid?.() === 0) return [];
  if (onPath("sudo") === undefined) return undefined;
  const { ok } = await run("sudo", ["-n", "true"], { quiet: true, deadlineSeconds: 20 });
  return ok ? ["sudo", "-n"] : undefined;
}

async function setUpWorkbench() {
  if (existsSync(workbenchTree)) return;
  await inTurn(`${workbenchTree}.turn`, async () => {
    if (existsSync(workbenchTree)) return;
    const name = path.basename(workbenchTree);
    for (const left of readdirSync(cache).filter((entry) => entry.startsWith(`${name}.unfinished-`))) {
      rmSync(path.join(cache, left), { recursive: true, force: true });
    }
    const unfinished = removeAtEnd(`${workbenchTree}.unfinished-${process.pid}`);
    mkdirSync(unfinished);
    for (const file of workbenchFiles) copyFileSync(file, path.join(unfinished, path.basename(file)));
    await installWorkbench(unfinished);
    // Somebody who thought us dead may have been faster; theirs is as good.
    if (!existsSync(workbenchTree)) renameSync(unfinished, workbenchTree);
  });
}

/**
 * In three steps, since the server's install scripts must run under the Node that the same package-lock brings:
 * files only, then that Node, then the parts that are compiled, against that Node's own headers.
 */
async function installWorkbench(tree) {
  console.log("Installing the VS Code server for the in-editor tests (about three minutes, once) ...");
  const { bin, node, nodeHeaders, server } = insideTree(tree);
  const npm = async (args, additions = {}) => {
    const env = cleanEnvironment({ npm_config_audit: "false", npm_config_fund: "false", ...additions });
    const { ok, output } = await run("npm", args, { cwd: tree, env, quiet: true, deadlineSeconds: 1200 });
    if (!ok)
      throw new SetupProblem(
        `${output.slice(-4000)}\nThe VS Code server could not be installed: npm ${args.join(" ")} failed.`,
      );
  };
  await npm(["ci", "--ignore-scripts", "--engine-strict=false"]);
  await npm(["rebuild", "node", "--foreground-scripts"]);
  await npm(["rebuild", "argon2", "code-server", "--foreground-scripts"], {
    PATH: `${bin}${path.delimiter}${process.env.PATH}`,
    ...(existsSync(path.join(nodeHeaders, "include", "node")) ? { npm_config_nodedir: nodeHeaders } : {}),
  });
  const version = await run(node, [server, "--config", path.join(tree, "config.yaml"), "--version"], {
    quiet: true,
  });
  if (!version.ok) throw new SetupProblem(`${version.output}\nThe installed VS Code server doesn't start.`);
}

/** Compares package-lock.json with npm's own record of what is in node_modules. */
function packagesAreCurrent() {
  const record = path.join(checkout, "node_modules", ".package-lock.json");
  if (!existsSync(record)) return false;
  const wanted = JSON.parse(readFileSync(path.join(checkout, "package-lock.json"), "utf8")).packages;
  const installed = JSON.parse(readFileSync(record, "utf8")).packages;
  return Object.entries(wanted).every(([place, { version, integrity, optional }]) => {
    if (place === "") return true;
    const found = installed[place];
    if (found === undefined) return optional === true;
    return found.version === version && found.integrity === integrity;
  });
}

/** Runs a script's main part, when it is the script; a need the user can meet is told without a stack. */
export async function main(moduleUrl, work) {
  if (process.argv[1] === undefined || moduleUrl !== pathToFileURL(process.argv[1]).href) return;
  try {
    await work();
  } catch (error) {
    if (interrupted()) return;
    console.error(error instanceof SetupProblem ? error.message : error);
    process.exit(1);
  }
}

await main(import.meta.url, async () => {
  await setUp();
  console.log("Ready.");
});
