// npm start: the demo bout in VS Code with the extension as it is now.
//   node test/run/start.mjs             in desktop VS Code where there is one, otherwise in a browser workbench
//   node test/run/start.mjs --browser   in a browser workbench
import { cpSync, existsSync, mkdirSync, mkdtempSync, readdirSync } from "node:fs";
import os from "node:os";
import path from "node:path";
import { setTimeout as pause } from "node:timers/promises";
import { packageExtension } from "./package.mjs";
import { checkout, onPath, packagedExtension } from "./places.mjs";
import { run } from "./programs.mjs";
import { SetupProblem, main, setUp, setUpPackages } from "./setup.mjs";
import { startWorkbench } from "./workbench.mjs";

/** How long a new desktop window gets to learn which editors its extensions have. */
const desktopWindowMilliseconds = 8000;

/** `code` of a desktop that can be shown; VS Code refuses to run as root. */
function desktopProgram() {
  const shown = process.platform !== "linux" || process.env.DISPLAY || process.env.WAYLAND_DISPLAY;
  return shown && process.getuid?.() !== 0 ? onPath("code") : undefined;
}

async function startDesktop(code) {
  await setUpPackages();
  await build();
  // Kept after this script has ended, since the window goes on.
  const { folder, bout } = copyDemo(mkdtempSync(path.join(os.tmpdir(), "boutline-demo-")));
  await command(code, ["--new-window", `--extensionDevelopmentPath=${checkout}`, folder]);
  if (bout !== undefined) {
    await pause(desktopWindowMilliseconds);
    await command(code, ["--reuse-window", bout]);
  }
  console.log(`The demo is open in VS Code, from ${folder}`);
}

async function startBrowserWorkbench() {
  await setUp({ withChromium: false });
  await build();
  const extension = packagedExtension();
  const problems = await packageExtension(extension);
  if (problems.length > 0) throw new SetupProblem(problems.join("\n"));
  const workbench = await startWorkbench({ extensions: [extension] });
  const { folder, bout } = copyDemo(workbench.folder);
  console.log("\nOpen this address in a browser on this machine; Ctrl+C stops it.\n");
  console.log(workbench.addressOf(folder));
  const stopped = workbench.ended.then(() => {
    throw new SetupProblem("The VS Code server has stopped.");
  });
  if (bout !== undefined) {
    await Promise.race([stopped, workbench.ready()]);
    await workbench.openFiles([bout]);
    console.log(`The demo bout is open: ${bout}`);
  }
  await stopped;
}

async function build() {
  await command(process.execPath, [path.join(checkout, "esbuild.mjs")]);
}

async function command(program, args) {
  const { ok } = await run(program, args, { cwd: checkout, deadlineSeconds: 120 });
  if (!ok) throw new SetupProblem(`${program} ${args.join(" ")} failed.`);
}

/** A copy that may be changed, and the bout file in it to look at first. */
function copyDemo(parent) {
  const folder = path.join(parent, "demo");
  mkdirSync(folder);
  const demo = path.join(checkout, "media", "demo");
  if (existsSync(demo)) cpSync(demo, folder, { recursive: true });
  const bouts = readdirSync(folder).filter((name) => name.endsWith(".bout.json"));
  const first = bouts.includes("demo.bout.json") ? "demo.bout.json" : bouts[0];
  return { folder, bout: first === undefined ? undefined : path.join(folder, first) };
}

await main(import.meta.url, async () => {
  const code = process.argv.includes("--browser") ? undefined : desktopProgram();
  await (code === undefined ? startBrowserWorkbench() : startDesktop(code));
});
