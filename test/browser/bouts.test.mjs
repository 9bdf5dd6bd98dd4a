// The view "Bouts": the shelf of the opened folder, grouped, filtered, and following the files; what is done with its bouts.
import assert from "node:assert/strict";
import { copyFileSync, mkdirSync, readFileSync, renameSync, rmSync, writeFileSync } from "node:fs";
import path from "node:path";
import { checkout } from "../run/places.mjs";
import { runTests, test, themes } from "./harness.mjs";
import { inventedBout, writeInvented } from "./invented.mjs";

const rows = ({ page }) => page.locator(".part.sidebar .monaco-list-row");
const row = (editor, text) => rows(editor).filter({ hasText: text });
const quick = ({ page }) => page.locator(".quick-input-widget:visible");
const showView = ({ page }) => page.locator('.activitybar .action-label[aria-label="Boutline"]').click();
const axe = readFileSync(path.join(checkout, "node_modules", "axe-core", "axe.min.js"), "utf8");

/** Menus and boxes take no click in their first tenth of a second. */
const settle = ({ page }) => page.waitForTimeout(500);

/** A menu may be closed under the pointer by news of the tree; then it is opened again. */
async function menu(editor, of, entry) {
  const item = editor.page.locator(".context-view .action-item:visible").filter({ hasText: entry });
  for (let left = 3; ; left -= 1) {
    await of.click({ button: "right" });
    await item.waitFor();
    await settle(editor);
    try {
      await item.click({ timeout: 3000 });
      return;
    } catch (error) {
      if (left === 1) throw error;
      await editor.page.keyboard.press("Escape");
      await settle(editor);
    }
  }
}

async function group(editor, by) {
  await editor.command("Boutline: Group the bouts by event, fencer, weapon, category or date");
  const offer = quick(editor)
    .locator(".monaco-list-row")
    .filter({ has: editor.page.getByText(by, { exact: true }) });
  await offer.waitFor();
  await settle(editor);
  await offer.click();
}

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
  await showView(editor);
  await row(editor, "Harbour Open").waitFor();
  await row(editor, "Low Tide Open").click();
  await row(editor, "Véssa Tarn 12 : 15 Kel Odrey").waitFor();
  assert.match(await row(editor, "Véssa Tarn 12 : 15").innerText(), /recording missing/);
  await row(editor, "To look at").click();
  await row(editor, "broken.bout.json").waitFor();
  assert.match(await row(editor, "broken.bout.json").innerText(), /line 1/);
  await page.keyboard.press("Escape");
  await editor.screenshot("bouts");
});

test("words leave only the bouts that have them while they are typed; Escape and a button show all again", async (editor) => {
  const { page } = editor;
  const type = async (words) => {
    await editor.command("Boutline: Show the bouts with these words");
    await quick(editor).locator("input").fill(words);
  };
  await type("vessa LOW tide");
  await row(editor, "Harbour Open").waitFor({ state: "detached" });
  assert.equal(await row(editor, "Low Tide Open").count(), 1);
  await page.keyboard.press("Escape");
  await row(editor, "Harbour Open").waitFor();
  await type("nobody at all");
  await page.getByText("No bout has all these words.").waitFor();
  await settle(editor);
  await page.keyboard.press("Enter");
  await editor.screenshot("bouts without the words");
  await page.getByRole("button", { name: "Show All Bouts" }).click();
  await row(editor, "Harbour Open").waitFor();
});

test("a file that comes, goes and is renamed is seen by itself, and so is a folder with all that is in it", async (editor) => {
  const { folder } = editor;
  const file = path.join(folder, "third.bout.json");
  const text = readFileSync(path.join(folder, "demo.bout.json"), "utf8");
  writeFileSync(file, text.replace('"Harbour Open"', '"Orchard Cup"'));
  await row(editor, "Orchard Cup").waitFor();
  rmSync(file);
  await row(editor, "Orchard Cup").waitFor({ state: "detached" });
  mkdirSync(path.join(folder, "later"));
  writeFileSync(
    path.join(folder, "later", "fourth.bout.json"),
    text.replace('"Harbour Open"', '"Mill Race"'),
  );
  await row(editor, "Mill Race").waitFor();
  renameSync(path.join(folder, "later"), path.join(folder, "..", "later"));
  await row(editor, "Mill Race").waitFor({ state: "detached" });
});

test("suggestions say why, show the bouts to look at, and can be left away", async (editor) => {
  copyFileSync(path.join(editor.folder, "demo.bout.json"), path.join(editor.folder, "copy.bout.json"));
  const toLookAt = row(editor, "To look at");
  await toLookAt.waitFor();
  if ((await toLookAt.getAttribute("aria-expanded")) === "false") await toLookAt.click();
  await row(editor, "Perhaps one bout").first().waitFor();
  const suggestion = row(editor, "Perhaps one bout");
  assert.match(await suggestion.innerText(), /the same fencers|are equal/);
  await suggestion.click();
  await editor.page.waitForTimeout(600);
  await editor.screenshot("bouts suggestion");
  await menu(editor, suggestion, "Leave this suggestion away");
  await suggestion.waitFor({ state: "detached" });
});

test("thirty bouts are grouped by fencer", async (editor) => {
  writeInvented(editor.folder, { bouts: 30, phrases: 20, fencers: 12, seed: 7 });
  await group(editor, "fencer");
  await row(editor, /^Kel Odrey/)
    .first()
    .waitFor();
  await row(editor, /^Vessa Tarn \(f0\)/).click();
  await editor.page.waitForTimeout(800);
  await editor.screenshot("bouts by fencer");
});

test("two bouts selected are compared, and a figure plays in its own bout", async (editor) => {
  const { page, folder } = editor;
  // The invented bouts name no recording; these name the demo's.
  for (const [name, number] of [
    ["north", 40],
    ["south", 43],
  ])
    writeFileSync(
      path.join(folder, `${name}.bout.json`),
      inventedBout(number, { bouts: 1, phrases: 40, fencers: 2, seed: 5 })
        .replace('"recordings": []', '"recordings": [{ "file": "demo.mp4" }]')
        .replace(/"event": "[^"]*"/, '"event": "Two Winds"'),
    );
  await group(editor, "event");
  await row(editor, "Two Winds").waitFor();
  await row(editor, "Two Winds").click();
  const north = page.locator('.part.sidebar .monaco-list-row[aria-label*="north.bout.json"]');
  const south = page.locator('.part.sidebar .monaco-list-row[aria-label*="south.bout.json"]');
  await north.waitFor();
  await north.click();
  // The viewer that opens takes the keyboard, and a menu opened before it has would close.
  await editor.viewer().locator(".ledger").filter({ hasText: "Vessa Tarn" }).waitFor();
  await settle(editor);
  await south.click({ modifiers: ["Control"] });
  await page.locator(".part.sidebar .monaco-list-row.selected").nth(1).waitFor();
  await menu(editor, south, "Compare the two bouts");
  const body = await comparison(editor);
  await body.locator("h1", { hasText: "Two bouts compared" }).waitFor();
  await editor.page.waitForTimeout(500);
  await editor.screenshot("bouts compared");
  await body.locator('button.evidence[data-of="second"]').first().click();
  await page.locator('.tab[data-resource-name$=".bout.json"]').first().waitFor();
  await page.waitForTimeout(1500);
  await editor.screenshot("bouts compared playing");
});

test("the comparison is there again after the window was reloaded, and plays", async (editor) => {
  await editor.reload("boutline.compared");
  const body = await comparison(editor);
  await body.locator("h1", { hasText: "Two bouts compared" }).waitFor({ timeout: 60_000 });
  await body.locator('button.evidence[data-of="first"]').first().click();
  await body.locator("#said", { hasText: /^Playing / }).waitFor();
}, 120);

async function comparison({ page }) {
  for (let tries = 0; tries < 150; tries++) {
    for (const frame of page.frames()) {
      const body = frame.locator("body");
      const found = await frame
        .locator("article.against")
        .count()
        .catch(() => 0);
      if (found > 0) return body;
    }
    await page.waitForTimeout(200);
  }
  throw new Error("there is no panel with a comparison");
}

for (const name of Object.keys(themes))
  test(`the view and the comparison in ${name}; axe finds nothing in the page`, async (editor) => {
    await editor.theme(name);
    const body = await comparison(editor);
    await body.evaluate((_, source) => (0, eval)(source), axe);
    const { violations } = await body.evaluate(() => globalThis.axe.run(document.querySelector("article")));
    assert.deepEqual(
      violations.map(({ id, nodes }) => `${id}: ${nodes[0].html.slice(0, 200)}`),
      [],
    );
    await editor.page.waitForTimeout(400);
    await editor.screenshot(`bouts ${name}`);
  });

// A hover would lie over the rows that are clicked next.
await runTests({ settings: { "workbench.hover.delay": 60_000 } });
