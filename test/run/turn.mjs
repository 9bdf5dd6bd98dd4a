// One at a time: a folder taken by whoever creates it first, kept by touching it, and free again once its owner falls silent.
import { rmSync } from "node:fs";
import { mkdir, rename, rm, stat, utimes } from "node:fs/promises";
import path from "node:path";
import { setTimeout as pause } from "node:timers/promises";
import { keepAtEnd, removeAtEnd } from "./programs.mjs";

const touchMilliseconds = 3000;
const silentMilliseconds = 30_000;

/** Waits until nobody else does `work` under this name, then does it. An owner that was killed is waited for 30 s. */
export async function inTurn(folder, work) {
  await mkdir(path.dirname(folder), { recursive: true });
  for (let waited = false; !(await take(folder)); waited = true) {
    if (!waited) console.log(`Waiting for another set-up to finish (${folder}) ...`);
    await pause(1000);
  }
  removeAtEnd(folder);
  const touching = setInterval(() => {
    const now = new Date();
    utimes(folder, now, now).catch(() => undefined);
  }, touchMilliseconds);
  try {
    return await work();
  } finally {
    clearInterval(touching);
    rmSync(folder, { recursive: true, force: true });
    keepAtEnd(folder);
  }
}

async function take(folder) {
  try {
    await mkdir(folder);
    return true;
  } catch (error) {
    if (error.code !== "EEXIST") throw error;
  }
  const touched = await stat(folder).catch(() => undefined);
  if (touched !== undefined && Date.now() - touched.mtimeMs > silentMilliseconds) {
    // Renaming first lets only one of several waiters clear it away.
    const aside = `${folder}.${process.pid}.silent`;
    const moved = await rename(folder, aside).then(
      () => true,
      () => false,
    );
    if (moved) await rm(aside, { recursive: true, force: true });
  }
  return false;
}
