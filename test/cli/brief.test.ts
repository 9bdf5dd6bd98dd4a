import { mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import path from "node:path";
import { afterAll, beforeAll, expect, test } from "vitest";
import { brief } from "../../src/cli/brief";
import { buildCommand } from "./command";
import { seasonTexts, strongOpener } from "../figures/brief/season";

let folder = "";
beforeAll(() => {
  folder = mkdtempSync(path.join(tmpdir(), "brief-"));
  mkdirSync(path.join(folder, "season"));
  for (const { file, text } of seasonTexts(30, strongOpener, 7)) writeFileSync(path.join(folder, file), text);
});
const removals: (() => void)[] = [() => rmSync(folder, { recursive: true, force: true })];
afterAll(() => removals.forEach((remove) => remove()));

async function run(...words: string[]) {
  let [out, errors] = ["", ""];
  const streams = { out: (text: string) => (out += text), errors: (text: string) => (errors += text) };
  const status = await brief.run(words, streams).catch((error: unknown) => {
    errors += error instanceof Error ? error.message : String(error);
    return 2 as const;
  });
  return { status, out, errors };
}

test("a folder of thirty bouts gives sentences and figures, and a JSON that begins with its version", async () => {
  const text = await run("--fencer", "tarn", folder);
  expect(text.status).toBe(0);
  expect(text.out).toContain("Brief on Vessa Tarn (tarn): 30 bouts");
  expect(text.out).toContain("Vessa Tarn scores more often when opening than when the opponent opens");
  const json = await run("--fencer", "tarn", "--json", folder);
  expect(json.out.startsWith('{\n  "brief": 1,')).toBe(true);
  expect((JSON.parse(json.out) as { bouts: unknown[] }).bouts).toHaveLength(30);
});

test("an unknown fencer is answered with the nearest and the list, a missing option with what to do", async () => {
  const unknown = await run("--fencer", "tarm", folder);
  expect(unknown).toMatchObject({ status: 2, out: "" });
  expect(unknown.errors).toContain('the nearest is "tarn"');
  expect(unknown.errors).toContain("odrey (Kel Odrey)");
  expect((await run(folder)).errors).toContain("--fencer ID");
  expect((await run("--fencer", "tarn")).errors).toContain("name the folders");
});

test("a broken file is told and the rest goes on", async () => {
  const broken = path.join(folder, "broken.bout.json");
  writeFileSync(broken, '{ "boutline": 1, ');
  const { status, out, errors } = await run("--fencer", "tarn", folder);
  rmSync(broken);
  expect(status).toBe(1);
  expect(errors).toContain("broken.bout.json: can't be read as a bout file");
  expect(out).toContain("30 bouts");
});

test("an HTML file that is there is written over only when told", async () => {
  const html = path.join(folder, "tarn.html");
  writeFileSync(html, "mine");
  const kept = await run("--fencer", "tarn", "--html", html, folder);
  expect(kept.status).toBe(2);
  expect(readFileSync(html, "utf8")).toBe("mine");
});

test("a plan beside the bouts is read; one that can't be used is told, and the brief goes on", async () => {
  const command = await buildCommand();
  removals.push(() => command.remove());
  mkdirSync(path.join(command.folder, "season"));
  for (const { file, text } of seasonTexts(6, strongOpener, 7)) command.write(file, text);
  const plan = path.join(command.folder, "tarn.plan.json");
  writeFileSync(
    plan,
    JSON.stringify({
      plan: 1,
      fencer: "tarn",
      things: [
        {
          do: "Keep the distance long & make her open",
          ties: [
            {
              about: "opened by the opponent",
              bouts: [
                {
                  bout: "season/bout-001.bout.json",
                  entries: [
                    { kind: "phrase", at: "0:00:02.000" },
                    { kind: "phrase", at: "9:00:02.000" },
                  ],
                },
              ],
            },
          ],
        },
      ],
    }),
  );
  const read = await command.run("brief", "--fencer", "tarn", "--html", "tarn.html", ".");
  expect(read.status).toBe(0);
  expect(read.out).toContain("1. Keep the distance long & make her open (1 phrase)");
  const page = readFileSync(path.join(command.folder, "tarn.html"), "utf8");
  expect(page).toContain("Keep the distance long &amp; make her open");
  expect(page).toContain("opened by the opponent (1 phrase of 1 bout; 1 not in the bout files any more)");
  // Of another brief than that of the fencer alone.
  expect((await command.run("brief", "--fencer", "tarn", "--against", "odrey", ".")).out).not.toContain(
    "Keep the distance",
  );
  writeFileSync(plan, "{ not a plan");
  const damaged = await command.run("brief", "--fencer", "tarn", ".");
  expect(damaged.status).toBe(1);
  expect(damaged.errors).toContain("tarn.plan.json: this is no JSON");
  expect(damaged.out).toContain("Brief on Vessa Tarn");
  expect(readFileSync(plan, "utf8")).toBe("{ not a plan");
  rmSync(plan);
  expect((await command.run("brief", "--fencer", "tarn", "--plan", plan, ".")).errors).toContain(
    "there is no plan",
  );
});
