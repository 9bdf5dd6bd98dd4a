// Runs other programs with a deadline and makes sure that none outlives the script that started it.
import { spawn } from "node:child_process";
import { rmSync } from "node:fs";
import { setTimeout as pause } from "node:timers/promises";

const running = new Set();
const temporaryFolders = new Set();
/** How long a program gets to stop by itself before it is killed. */
const graceMilliseconds = 5000;

let interruption = false;
for (const signal of ["SIGINT", "SIGTERM", "SIGHUP"]) {
  process.on(signal, () => {
    interruption = true;
    void stopEverything().then(() => process.exit(130));
  });
}
process.on("exit", () => {
  for (const child of running) signalGroup(child, "SIGKILL");
  for (const folder of temporaryFolders) removeFolder(folder);
});

/** Whether this script has been told to stop, and is stopping what it started. */
export function interrupted() {
  return interruption;
}

/**
 * Starts a program in a process group of its own, so that stopping it also stops what it started.
 * `quiet` collects its output instead of showing it.
 */
export function start(command, args, { cwd, env, quiet = false, onOutput } = {}) {
  if (interruption) throw new Error("Stopped.");
  const child = spawn(command, args, {
    cwd,
    env: env ?? cleanEnvironment(),
    detached: process.platform !== "win32",
    shell: process.platform === "win32" && !command.endsWith(".exe"),
    stdio: quiet || onOutput ? ["ignore", "pipe", "pipe"] : ["ignore", "inherit", "inherit"],
  });
  running.add(child);
  const started = { child, output: "", ended: undefined };
  for (const stream of [child.stdout, child.stderr]) {
    stream?.setEncoding("utf8").on("data", (text) => {
      started.output += text;
      onOutput?.(text);
    });
  }
  started.ended = new Promise((resolve) => {
    child.on("error", (error) => {
      running.delete(child);
      started.output += `${error.message}\n`;
      resolve(127);
    });
    child.on("close", (code, signal) => {
      running.delete(child);
      resolve(code ?? (signal === null ? 1 : 128));
    });
  });
  return started;
}

/** Runs a program to its end. `late` says that the deadline stopped it. */
export async function run(command, args, { deadlineSeconds = 600, ...options } = {}) {
  const started = start(command, args, options);
  let late = false;
  const timer = setTimeout(() => {
    late = true;
    void stop(started);
  }, deadlineSeconds * 1000);
  const code = await started.ended;
  clearTimeout(timer);
  return { code, late, ok: code === 0 && !late, output: started.output };
}

/** Asks a started program and its children to stop; kills them if they don't. */
export async function stop(started) {
  if (!running.has(started.child)) return;
  signalGroup(started.child, "SIGTERM");
  const kill = setTimeout(() => signalGroup(started.child, "SIGKILL"), graceMilliseconds);
  // A grandchild that keeps the output pipe open must not hold us up for ever.
  await Promise.race([started.ended, pause(graceMilliseconds * 2, undefined, { ref: false })]);
  clearTimeout(kill);
  signalGroup(started.child, "SIGKILL");
}

/** Removes the folder when this script ends, however it ends. */
export function removeAtEnd(folder) {
  temporaryFolders.add(folder);
  return folder;
}

export function keepAtEnd(folder) {
  temporaryFolders.delete(folder);
}

/**
 * The environment without what npm, an editor's terminal or a server's settings would leak into a started program:
 * npm would take the outer script's Node for its own, and VS Code would open in the editor we were started from.
 */
export function cleanEnvironment(additions = {}) {
  const leaking =
    /^(npm_(lifecycle|package|command|execpath|node_execpath)|npm_config_(local_prefix|user_agent|npm_version)|VSCODE_|CODE_SERVER_|ELECTRON_RUN_AS_NODE$|INIT_CWD$|PASSWORD$|HASHED_PASSWORD$|PORT$)/;
  const kept = Object.entries(process.env).filter(([name]) => !leaking.test(name));
  return { ...Object.fromEntries(kept), ...additions };
}

async function stopEverything() {
  await Promise.all(
    [...running].map((child) => stop({ child, ended: new Promise((r) => child.on("close", r)) })),
  );
}

function signalGroup(child, signal) {
  if (child.pid === undefined) return;
  try {
    process.kill(process.platform === "win32" ? child.pid : -child.pid, signal);
  } catch {
    // It has ended already.
  }
}

function removeFolder(folder) {
  try {
    rmSync(folder, { recursive: true, force: true, maxRetries: 5, retryDelay: 100 });
  } catch (error) {
    console.error(`The temporary folder ${folder} could not be removed: ${error.message}`);
  }
}
