import { mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import path from "node:path";
import { afterAll, beforeAll, expect, test } from "vitest";
import { brief } from "../../src/cli/brief";
import { seasonTexts, strongOpener } from "../figures/brief/season";

let folder = "";
beforeAll(() => {
  folder = mkdtempSync(path.join(tmpdir(), "brief-"));
  mkdirSync(path.join(folder, "season"));
  for (const { file, text } of seasonTexts(30, strongOpener, 7)) writeFileSync(path.join(folder, file), text);
});
afterAll(() => rmSync(folder, { recursive: true, force: true }));

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
  expect(text.out).toContain(
    "Vessa Tarn scores more often when Vessa Tarn opens than when the opponent opens",
  );
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
