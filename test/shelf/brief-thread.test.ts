// The thread a brief is made in: the same brief as without it, made again of what has changed.

import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import path from "node:path";
import { build } from "esbuild";
import { afterAll, beforeAll, expect, test } from "vitest";
import { briefOf, noPlan, withTie, type BriefEvidence } from "../../src/figures/brief";
import type { BriefFile } from "../../src/shelf/brief-bouts";
import { BriefThread, stopped, type BriefMade } from "../../src/shelf/brief-thread";
import { boutRead, seasonTexts, strongOpener } from "../figures/brief/season";

const texts = seasonTexts(8, strongOpener, 7, 20);
let folder = "";
let files: readonly BriefFile[] = [];
let thread: BriefThread;

beforeAll(async () => {
  folder = mkdtempSync(path.join(tmpdir(), "brief-thread-"));
  mkdirSync(path.join(folder, "season"));
  files = texts.map(({ file, text }) => {
    writeFileSync(path.join(folder, file), text);
    return { path: path.join(folder, file), file };
  });
  await build({
    absWorkingDir: path.join(import.meta.dirname, "..", ".."),
    entryPoints: ["src/shelf/brief-worker.ts"],
    outfile: path.join(folder, "brief-worker.js"),
    ...{ bundle: true, platform: "node", format: "cjs", target: "node20", logLevel: "error" },
    mainFields: ["module", "main"],
  });
  thread = new BriefThread(path.join(folder, "brief-worker.js"));
});
afterAll(async () => {
  await thread.stop();
  rmSync(folder, { recursive: true, force: true });
});

async function made(of: readonly BriefFile[]): Promise<BriefMade> {
  const answer = await thread.brief(
    { files: of, fencer: "tarn", against: undefined, afresh: false },
    () => undefined,
  );
  if (!answer.ok) throw new Error(answer.problem);
  return answer.value;
}

test("the brief is the one the figures make, and a file that can't be read is told", async () => {
  const broken = { path: path.join(folder, "season", "gone.bout.json"), file: "season/gone.bout.json" };
  const { brief, leftOut } = await made([...files, broken]);
  const direct = briefOf(
    texts.map(({ file, text }) => boutRead(file, text)),
    "tarn",
  );
  expect(brief).toEqual(direct.ok ? direct.value : undefined);
  expect(leftOut).toEqual([{ file: broken.file, message: "there is no such file" }]);
});

test("text an editor has not saved counts, and what is on the disk again once it is thrown away", async () => {
  const [first, ...others] = files;
  const text = texts[0]?.text.replaceAll('"tarn"', '"somebody-else"');
  if (first === undefined || text === undefined) throw new Error("no bout");
  expect((await made([{ ...first, text }, ...others])).brief.bouts).toHaveLength(7);
  expect((await made(files)).brief.bouts).toHaveLength(8);
});

test("a figure's phrases are named so that they are found again in a plan", async () => {
  const { brief } = await made(files);
  const evidence: BriefEvidence = brief.total.for.evidence.slice(0, 2);
  const named = await thread.named(evidence);
  if (!named.ok) throw new Error(named.problem);
  expect(named.value.map(({ path: full }) => full)).toEqual(
    evidence.map(({ file }) => path.join(folder, file)),
  );
  // Named from the folder of the plan, once that is known.
  await thread.plan(undefined, folder);
  const again = await thread.named(evidence);
  if (!again.ok) throw new Error(again.problem);
  const tie = { about: "touches for", bouts: again.value.map(({ tied }) => tied) };
  const plan = await thread.plan(withTie(noPlan("tarn", undefined), 0, tie), folder);
  if (!plan.ok) throw new Error(plan.problem);
  expect(plan.value.things[0]?.ties[0]).toEqual({
    about: "touches for",
    phrases: evidence.flatMap(({ file, entries }) =>
      entries.map((entry) => ({ file, entry, at: expect.any(Number) as number })),
    ),
    lost: 0,
  });
});

test("stopped, it answers so, and the next question starts another", async () => {
  const asked = made(files).catch((error: unknown) => (error instanceof Error ? error.message : ""));
  await thread.stop();
  expect(await asked).toBe(stopped);
  expect((await made(files)).brief.bouts).toHaveLength(8);
});
