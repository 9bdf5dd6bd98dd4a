// Recordings a bout file names that are not simply there: one outside the opened folder, and one that is missing.
import assert from "node:assert/strict";
import { copyFileSync, readFileSync, writeFileSync } from "node:fs";
import path from "node:path";
import { runTests, test } from "./harness.mjs";

/** A copy of the demo's bout file that names another recording. */
function boutFor(editor, name, recording) {
  const demo = readFileSync(path.join(editor.folder, "demo.bout.json"), "utf8");
  const file = path.join(editor.folder, `${name}.bout.json`);
  writeFileSync(file, demo.replace('"demo.mp4"', JSON.stringify(recording)));
  return file;
}

async function openFromExplorer({ page }, name) {
  await page.getByRole("treeitem", { name: `${name}.bout.json` }).dblclick();
  await page.locator(`.tab.active[data-resource-name="${name}.bout.json"]`).first().waitFor();
}

const picture = (editor) => editor.viewer().locator("video").first();
const hasPicture = (editor) =>
  picture(editor).evaluate((video) => video.readyState >= 2 && video.videoWidth > 0);

async function until(what, ask) {
  for (let left = 200; left > 0; left--) {
    if (await ask().catch(() => false)) return;
    await new Promise((resolve) => setTimeout(resolve, 200));
  }
  assert.fail(`Waited in vain until ${what}.`);
}

test("a recording outside the opened folder is played only once the user allows it", async (editor) => {
  copyFileSync(path.join(editor.folder, "demo.mp4"), path.join(editor.folder, "..", "elsewhere.mp4"));
  boutFor(editor, "outside", "../elsewhere.mp4");
  await openFromExplorer(editor, "outside");
  const allow = editor.page.getByRole("button", { name: "Play It" });
  await allow.waitFor({ timeout: 60_000 });
  const shownBefore = await picture(editor).count();
  await allow.click();
  assert.equal(shownBefore, 0);
  await until("the recording is shown", () => hasPicture(editor));
}, 120);

test("a missing recording can be chosen, which changes its name in the text and nothing else", async (editor) => {
  const file = boutFor(editor, "gone", "not-here.mp4");
  const before = readFileSync(file, "utf8");
  await openFromExplorer(editor, "gone");
  const choose = editor.page.getByRole("button", { name: "Choose the File…" });
  await choose.waitFor({ timeout: 60_000 });
  await choose.click();
  await editor.page
    .locator(".quick-input-widget:visible .monaco-list-row")
    .filter({ hasText: "demo.mp4" })
    .first()
    .click();
  await until("the recording is shown", () => hasPicture(editor));
  await editor.page.keyboard.press("Control+s");
  await until("the bout file is saved", () =>
    Promise.resolve(readFileSync(file, "utf8") === before.replace('"not-here.mp4"', '"demo.mp4"')),
  );
}, 120);

await runTests();
