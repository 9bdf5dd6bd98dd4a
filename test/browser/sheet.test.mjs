// The study sheet in the editor: opened beside the viewer, made anew while the text changes, playing its evidence.
import assert from "node:assert/strict";
import { readFileSync, writeFileSync } from "node:fs";
import path from "node:path";
import { runTests, test, themes } from "./harness.mjs";

test("the study sheet of the demo opens and shows its figures", async (editor) => {
  await editor.open("demo.bout.json");
  await editor.viewer().locator(".ledger").filter({ hasText: "Vessa Tarn" }).waitFor();
  await editor.command("Boutline: Study sheet");
  const sheet = await sheetOf(editor);
  await sheet.locator("h1", { hasText: "Foil, category B, quarter-final (demo)" }).waitFor();
  assert.equal(await sheet.locator(".result .score").innerText(), "12\nto\n15");
  await editor.screenshot("study-sheet");
});

test("a figure plays the phrases behind it in the viewer", async (editor) => {
  const sheet = await sheetOf(editor);
  await sheet.locator('[data-key="left.touchesByAction.riposte"]').click();
  await sheet.locator("#said", { hasText: "Playing \u201criposte, Vessa Tarn\u201d: 1 in a row." }).waitFor();
  await editor.page.waitForTimeout(1500);
  await editor.screenshot("study-sheet-playing");
});

test("the sheet follows the text, says why where it can't be read, and comes back", async (editor) => {
  const sheet = await sheetOf(editor);
  const file = path.join(editor.folder, "demo.bout.json");
  const text = readFileSync(file, "utf8");
  writeFileSync(file, text.replace('"Harbour Open"', '"Low Tide Open"'));
  await sheet.locator(".event", { hasText: "Low Tide Open" }).waitFor();
  writeFileSync(file, text.replace('"fencers": {', '"fencers": '));
  await sheet.locator("h1", { hasText: "No study sheet of demo.bout.json" }).waitFor();
  assert.equal(await sheet.locator("[data-entries], table, svg").count(), 0);
  writeFileSync(file, text);
  await sheet.locator(".event", { hasText: "Harbour Open" }).waitFor();
  await sheet.locator('[data-key="left.appeals.asked"]').click();
  await sheet
    .locator("#said", { hasText: "Playing \u201casked for, Vessa Tarn\u201d: 1 in a row." })
    .waitFor();
});

test("the sheet is there again after its tab was hidden", async (editor) => {
  await editor.open("demo.mp4");
  await editor.command("View: Open Previous Editor in Group");
  const sheet = await sheetOf(editor);
  await sheet.locator(".event", { hasText: "Harbour Open" }).waitFor();
});

test("a folded section is filled when it is opened", async (editor) => {
  const sheet = await sheetOf(editor);
  assert.equal(await sheet.locator('[data-section="answers"] table').count(), 0);
  await sheet.locator('[data-section="answers"] > summary').click();
  await sheet.locator('[data-section="answers"] table').waitFor();
});

test("what a section's figures mean opens as a page, at that section", async (editor) => {
  const sheet = await sheetOf(editor);
  await sheet.locator('[data-meaning="answers"]').click();
  const heading = await inAnyFrame(editor, "h2", "First action and answer", "h1", "What the figures mean");
  await editor.page.waitForTimeout(1500);
  const { y } = await heading.boundingBox();
  assert.ok(y >= 0 && y < 700, `the heading stands at ${y}`);
  await editor.screenshot("study-sheet-meaning");
  await editor.command("View: Close Editor");
});

test("the sheet and its open sections are there again after the window was reloaded", async (editor) => {
  await editor.page.waitForTimeout(1500);
  await editor.reload("boutline.sheet");
  const sheet = await sheetOf(editor);
  await sheet.locator(".event", { hasText: "Harbour Open" }).waitFor({ timeout: 60_000 });
  await sheet.locator('[data-section="answers"] table').waitFor();
});

for (const name of Object.keys(themes))
  test(`the sheet is readable in ${name}`, async (editor) => {
    await editor.theme(name);
    const sheet = await sheetOf(editor);
    const background = () =>
      sheet.evaluate(() => ({
        page: getComputedStyle(document.body).backgroundColor,
        ink: getComputedStyle(document.body).color,
      }));
    await editor.page.waitForTimeout(500);
    const { page, ink } = await background();
    assert.notEqual(page, ink);
    assert.ok(contrast(page, ink) >= 7, `${ink} on ${page}`);
    await editor.screenshot(`study-sheet ${name}`);
  });

/** The document of the page that holds the study sheet. */
async function sheetOf(editor) {
  const { page } = editor;
  for (let attempt = 0; attempt < 100; attempt++) {
    for (const frame of page.frames())
      if (
        (await frame
          .locator("main#sheet")
          .count()
          .catch(() => 0)) > 0
      )
        return frame;
    await page.waitForTimeout(200);
  }
  throw new Error("There is no study sheet in the window.");
}

/** An element with this text, in the page that has another element with that text. */
async function inAnyFrame({ page }, tag, text, besides, otherText) {
  for (let attempt = 0; attempt < 100; attempt++) {
    for (const frame of page.frames()) {
      const found = await frame
        .locator(besides, { hasText: otherText })
        .count()
        .catch(() => 0);
      if (found > 0) return frame.locator(tag, { hasText: text });
    }
    await page.waitForTimeout(200);
  }
  throw new Error(`There is no page with "${otherText}" in the window.`);
}

/** Contrast of two colours written `rgb(r, g, b)`: WCAG 2.2, "contrast ratio". */
function contrast(one, other) {
  const [light, dark] = [one, other].map(luminance).sort((a, b) => b - a);
  return (light + 0.05) / (dark + 0.05);
}

function luminance(colour) {
  const [red, green, blue] = colour
    .match(/[\d.]+/g)
    .slice(0, 3)
    .map((value) => value / 255)
    .map((value) => (value <= 0.04045 ? value / 12.92 : ((value + 0.055) / 1.055) ** 2.4));
  return 0.2126 * red + 0.7152 * green + 0.0722 * blue;
}

await runTests();
