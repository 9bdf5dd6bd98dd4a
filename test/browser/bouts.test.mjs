// The view "Bouts": the shelf of the opened folder, grouped, filtered, and following the files.
import assert from "node:assert/strict";
import { readFileSync, rmSync, writeFileSync } from "node:fs";
import path from "node:path";
import { runTests, test, themes } from "./harness.mjs";

const rows = ({ page }) => page.locator(".part.sidebar .monaco-list-row");
const row = (editor, text) => rows(editor).filter({ hasText: text });

test("the view lists the bouts by event, the broken file apart with its reason", async (editor) => {
  const { folder, page } = editor;
  const text = readFileSync(path.join(folder, "demo.bout.json"), "utf8");
  writeFileSync(
    path.join(folder, "second.bout.json"),
    text
      .replace('"Harbour Open"', '"Low Tide Open"')
      .replace("demo.mp4", "gone.mp4")
      .replaceAll("Vessa Tarn", "Véssa Tarn"),
  );
  writeFileSync(path.join(folder, "broken.bout.json"), "{");
  await page.locator('.activitybar .action-label[aria-label="Boutline"]').click();
  await row(editor, "Harbour Open").waitFor();
  await row(editor, "Low Tide Open").click();
  await row(editor, "Véssa Tarn 12 : 15 Kel Odrey").waitFor();
  assert.match(await row(editor, "Véssa Tarn 12 : 15").innerText(), /recording missing/);
  await row(editor, "To look at").click();
  await row(editor, "broken.bout.json").waitFor();
  await editor.screenshot("bouts");
});

test("words leave only the bouts that have them, and empty words show all again", async (editor) => {
  const { page } = editor;
  await editor.command("Boutline: Show the bouts with these words");
  await page.locator(".quick-input-widget:visible input").fill("vessa LOW tide");
  await page.keyboard.press("Enter");
  await row(editor, "Harbour Open").waitFor({ state: "detached" });
  assert.equal(await row(editor, "Low Tide Open").count(), 1);
  await editor.command("Boutline: Show the bouts with these words");
  await page.locator(".quick-input-widget:visible input").fill("");
  await page.keyboard.press("Enter");
  await row(editor, "Harbour Open").waitFor();
});

test("a file that comes and goes is seen by itself", async (editor) => {
  const { folder } = editor;
  const file = path.join(folder, "third.bout.json");
  const text = readFileSync(path.join(folder, "demo.bout.json"), "utf8");
  writeFileSync(file, text.replace('"Harbour Open"', '"Orchard Cup"'));
  await row(editor, "Orchard Cup").waitFor();
  rmSync(file);
  await row(editor, "Orchard Cup").waitFor({ state: "detached" });
});

test("the bouts are grouped by fencer", async (editor) => {
  const { page } = editor;
  await editor.command("Boutline: Group the bouts by event, fencer, weapon, category or date");
  await page
    .locator(".quick-input-widget:visible .monaco-list-row")
    .filter({ has: page.getByText("fencer", { exact: true }) })
    .click();
  await row(editor, /^Kel Odrey/)
    .first()
    .waitFor();
});

for (const name of Object.keys(themes))
  test(`the view in ${name}`, async (editor) => {
    await editor.theme(name);
    await editor.page.waitForTimeout(400);
    await editor.screenshot(`bouts ${name}`);
  });

await runTests();
