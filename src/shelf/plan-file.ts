// A coach's plan on the disk: read, and changed as it is at that moment, so that what somebody else has written meanwhile
// stays.

import { randomBytes } from "node:crypto";
import { existsSync, statSync } from "node:fs";
import { link, rename, rm, writeFile } from "node:fs/promises";
import path from "node:path";
import { failure, success, type Result } from "../bout/result";
import { noPlan, planFileName, planText, readPlan, type WrittenPlan } from "../figures/brief";
import { readText } from "./text";

export interface PlanOf {
  readonly fencer: string;
  readonly against?: string | undefined;
}

export interface PlanOnDisk {
  /** As the file has it; undefined where there is none. */
  readonly text: string | undefined;
  readonly plan: WrittenPlan;
}

/** Where the plan lies: in the first of these folders that has it; where none has, it will be in the first. */
export function planFileIn(folders: readonly string[], { fencer, against }: PlanOf): string {
  const name = planFileName(fencer, against);
  const files = folders.map((folder) => path.join(folder, name));
  return files.find((file) => existsSync(file)) ?? files[0] ?? name;
}

/** An empty plan where there is no file; the failure says why one can't be used, in words that follow its name. */
export async function planOnDisk(
  file: string,
  { fencer, against }: PlanOf,
): Promise<Result<PlanOnDisk, string>> {
  if (!existsSync(file)) return success({ text: undefined, plan: noPlan(fencer, against) });
  const text = await readText(file);
  if (!text.ok) return failure(text.problem);
  const plan = readPlan(text.value, fencer, against);
  return plan.ok ? success({ text: text.value, plan: plan.value }) : failure(plan.problem);
}

/** How often a file that changes while it is written is read and changed again. */
const tries = 5;

/** Changes the plan as it is on the disk now. `change` answers undefined where there is nothing to do. A file that can't be
 * used stays as it is, and so does one that can't be written whole. */
export async function changePlan(
  file: string,
  of: PlanOf,
  change: (now: WrittenPlan) => WrittenPlan | undefined,
): Promise<Result<WrittenPlan, string>> {
  const turn = await ownTurn(file);
  if (!turn.ok) return turn;
  try {
    return await changeNow(file, of, change);
  } finally {
    await rm(turn.value, { force: true }).catch(() => undefined);
  }
}

async function changeNow(
  file: string,
  of: PlanOf,
  change: (now: WrittenPlan) => WrittenPlan | undefined,
): Promise<Result<WrittenPlan, string>> {
  for (let attempt = 0; attempt < tries; attempt++) {
    const now = await planOnDisk(file, of);
    if (!now.ok) return now;
    const next = change(now.value.plan);
    if (next === undefined) return success(now.value.plan);
    const text = planText(next);
    if (text === now.value.text) return success(next);
    const written = await replace(file, now.value.text, text);
    if (!written.ok) return written;
    if (written.value) return success(next);
  }
  return failure("this keeps changing while it is written; try again");
}

/** Milliseconds a change is waited for, and after which one that was never finished is no longer respected. */
const patience = 3000;

/** Two windows change a plan one after the other: whoever has made this file may. Answers the file. */
async function ownTurn(file: string): Promise<Result<string, string>> {
  const sign = `${file}.writing`;
  const until = Date.now() + 2 * patience;
  for (;;) {
    try {
      await writeFile(sign, "", { flag: "wx" });
      return success(sign);
    } catch (error) {
      const code = error instanceof Error && "code" in error ? error.code : undefined;
      if (code !== "EEXIST" || Date.now() > until)
        return failure(`this can't be written (${error instanceof Error ? error.message : String(error)})`);
    }
    const since = statSync(sign, { throwIfNoEntry: false })?.mtimeMs ?? Date.now();
    if (Date.now() - since > patience) await rm(sign, { force: true }).catch(() => undefined);
    else await new Promise((resolve) => setTimeout(resolve, 15));
  }
}

/** Under another name first, so that a full disk leaves the plan there was; false where the file is another by now. */
async function replace(
  file: string,
  before: string | undefined,
  text: string,
): Promise<Result<boolean, string>> {
  const part = `${file}.${randomBytes(4).toString("hex")}.part`;
  try {
    await writeFile(part, text, { flag: "wx" });
    if (before === undefined) {
      // Unlike a renaming, a link never takes the place of a file that has come meanwhile. Some disks know no links.
      const linked = await link(part, file).then(
        () => true,
        () => false,
      );
      if (linked) return success(true);
      if (existsSync(file)) return success(false);
    } else {
      const now = await readText(file);
      if (!now.ok || now.value !== before) return success(false);
    }
    await rename(part, file);
    return success(true);
  } catch (error) {
    return failure(`this can't be written (${error instanceof Error ? error.message : String(error)})`);
  } finally {
    await rm(part, { force: true }).catch(() => undefined);
  }
}
