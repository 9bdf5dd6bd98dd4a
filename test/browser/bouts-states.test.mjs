// The view "Bouts" where there is little to show: no folder with bouts, a folder that is not trusted. And a new bout from the
// first recording on, found again after it was moved.
import assert from "node:assert/strict";
import { copyFileSync, existsSync, mkdirSync, readFileSync, renameSync } from "node:fs";
import path from "node:path";
import { checkout } from "../run/places.mjs";
import { openEditor, runTests, test, themes } from "./harness.mjs";
import { writeInvented } from "./invented.mjs";

const demo = path.join(checkout, "media", "demo");
const rows = ({ page }) => page.locator(".part.sidebar .monaco-list-row");
const row = (editor, text) => rows(editor).filter({ hasText: text });
const quick = ({ page }) => page.locator(".quick-input-widget:visible");
const offers = (editor, text) => quick(editor).locator(".monaco-list-row").filter({ hasText: text });
const showView = ({ page }) => page.locator('.activitybar .action-label[aria-label="Boutline"]').click();

async function take(editor, text) {
  const offer = offers(editor, text).first();
  await offer.waitFor();
  // Menus and boxes take no click in their first tenth of a second.
  await editor.page.waitForTimeout(500);
  await offer.click();
}

async function until(what, ask) {
  for (let left = 300; left > 0; left--) {
    if (await ask()) return;
    await new Promise((resolve) => setTimeout(resolve, 100));
  }
  assert.fail(`Waited in vain until ${what}.`);
}

test("a folder without bouts says how the first one is made", async (editor) => {
  await showView(editor);
  await editor.page.getByRole("button", { name: "New Bout for a Recording" }).waitFor();
  await editor.screenshot("bouts welcome");
});

test("a new bout is made in two steps: the recording, and who fences", async (editor) => {
  const { page, folder } = editor;
  mkdirSync(path.join(folder, "day one"));
  copyFileSync(path.join(demo, "demo.mp4"), path.join(folder, "day one", "semi.mp4"));
  await page.getByRole("button", { name: "New Bout for a Recording" }).click();
  await offers(editor, "semi.mp4").waitFor();
  await editor.screenshot("new bout recording");
  await take(editor, "semi.mp4");
  await quick(editor).getByText("who fences on the referee's left?").waitFor();
  await quick(editor).locator("input[type=text]").fill("Sabel Wend");
  await take(editor, "Sabel Wend");
  await quick(editor).getByText("who fences on the referee's right?").waitFor();
  await quick(editor).locator("input[type=text]").fill("Ilvo Hathe");
  await take(editor, "Ilvo Hathe");
  // The first bout of all: nothing says which weapon it is.
  await take(editor, /^\u00e9p\u00e9e, pool/);
  const file = path.join(folder, "day one", "semi.bout.json");
  await editor.viewer().locator(".ledger").filter({ hasText: "Sabel Wend" }).waitFor();
  const text = readFileSync(file, "utf8");
  assert.match(text, /"left": \{ "name": "Sabel Wend" \}/);
  assert.match(text, /"weapon": "epee"/);
  await row(editor, "no event given").waitFor();
});

test("the next bout is offered the fencers known, and asks no more than it must", async (editor) => {
  const { folder, page } = editor;
  copyFileSync(path.join(demo, "demo.mp4"), path.join(folder, "day one", "final.mp4"));
  await editor.command("Boutline: New bout file for a recording");
  await offers(editor, "final.mp4").waitFor();
  await page.waitForTimeout(300);
  assert.match(await offers(editor, "final.mp4").first().getAttribute("aria-label"), /final\.mp4/);
  await take(editor, "final.mp4");
  await offers(editor, "Ilvo Hathe").waitFor();
  await editor.screenshot("new bout fencers");
  await take(editor, "Ilvo Hathe");
  await take(editor, "Sabel Wend");
  const file = path.join(folder, "day one", "final.bout.json");
  await until("the bout file is made", () => existsSync(file));
  assert.match(readFileSync(file, "utf8"), /"weapon": "epee"/);
});

test("a recording that was moved while nobody looked is found again from the view's menu", async (editor) => {
  const { folder, page } = editor;
  const file = path.join(folder, "day one", "final.bout.json");
  const before = readFileSync(file, "utf8");
  await page.waitForTimeout(4000);
  mkdirSync(path.join(folder, "archive"));
  renameSync(path.join(folder, "day one", "final.mp4"), path.join(folder, "archive", "camera 3.mp4"));
  await row(editor, "no event given").click();
  const bout = row(editor, "recording missing");
  await bout.waitFor();
  await bout.hover();
  await bout.getByRole("button", { name: "Find a moved recording again" }).click();
  await offers(editor, "camera 3.mp4").waitFor();
  await editor.screenshot("recording found again");
  await take(editor, "camera 3.mp4");
  const after = before.replace('"final.mp4"', '"../archive/camera 3.mp4"');
  await until("the bout file names it", () => readFileSync(file, "utf8") === after);
  await bout.waitFor({ state: "detached" });
});

test("a folder that is not trusted lists its bouts and starts nothing", async () => {
  const editor = await openEditor({
    trust: true,
    settings: {
      "security.workspace.trust.enabled": true,
      "security.workspace.trust.startupPrompt": "never",
    },
  });
  try {
    writeInvented(editor.folder, { bouts: 6, phrases: 10, fencers: 4, seed: 2 });
    await showView(editor);
    await row(editor, "Harbour Open").first().waitFor();
    await editor.page.locator(".part.sidebar").getByText("This folder is not trusted").waitFor();
    await editor.screenshot("bouts not trusted");
    assert.ok(
      !existsSync(
        path.join(
          editor.workbench.folder,
          "data",
          "User",
          "globalStorage",
          "boutline.boutline",
          "prints.json",
        ),
      ),
    );
  } finally {
    await editor.close();
  }
}, 180);

for (const name of Object.keys(themes))
  test(`the view with a missing recording in ${name}`, async (editor) => {
    await editor.theme(name);
    await editor.page.waitForTimeout(400);
    await editor.screenshot(`bouts few ${name}`);
  });

await runTests({ demo: path.join(checkout, "test", "browser", "nothing-here") });
