// A newcomer's first five minutes with the packaged extension: the demo, a bout file of their own, three phrases, a card
// and an appeal by keys, undo from both sides, a reload in mid-phrase, save and reopen; and what the screens look like.
import assert from "node:assert/strict";
import { createHash } from "node:crypto";
import { existsSync, readFileSync, readdirSync } from "node:fs";
import path from "node:path";
import { setTimeout as pause } from "node:timers/promises";
import { checkout } from "../run/places.mjs";
import { runTests, test, themes } from "./harness.mjs";

const parts = {
  sentence: ".sentence .line-one",
  stage: ".stage",
  ledger: ".ledger",
};
const frame = 40; // The demo has 25 frames a second.

test("the demo opens by its command, on a copy", async (editor) => {
  await editor.command("Boutline: Open the demo bout");
  const viewer = await shownViewer(editor);
  await viewer.locator(parts.ledger).filter({ hasText: "Vessa Tarn" }).waitFor();
  await pictureReady(viewer);
  const copy = find(editor.workbench.folder, (file) => /globalStorage.*demo\.bout\.json$/.test(file));
  assert.ok(copy, "no copy was made");
  assert.equal(
    hash(path.join(path.dirname(copy), "demo.mp4")),
    hash(path.join(checkout, "media", "demo", "demo.mp4")),
  );
  await editor.command("View: Close All Editors");
});

test("a bout file of one's own is made for a recording from the Explorer", async (editor) => {
  const { page } = editor;
  await page.getByRole("treeitem", { name: "demo.mp4" }).click({ button: "right" });
  // A menu takes no click in its first tenth of a second, so that the click that opened it can't choose.
  const item = page.getByRole("menuitem", { name: "New bout file for a recording" });
  await item.hover();
  await pause(500);
  await item.click();
  const later = page
    .locator(".quick-input-widget:visible .monaco-list-row")
    .filter({ hasText: "Write the names into the text later" });
  await later.waitFor();
  await pause(500);
  // Weapon and format are those of the demo bout beside it.
  await later.click();
  await page.locator('.tab[data-resource-name="demo-2.bout.json"]').first().waitFor();
  const viewer = await shownViewer(editor);
  await pictureReady(viewer);
  assert.deepEqual(log(editor), []);
});

test("three phrases, a card and an appeal are tagged by keys while the recording plays", async (editor) => {
  const { page } = editor;
  const viewer = await shownViewer(editor);
  await listen(viewer);
  await page.keyboard.press("Space");
  const tell = (words) => viewer.locator(parts.sentence).filter({ hasText: words }).waitFor();

  await page.keyboard.press("KeyV");
  await tell("1");
  for (const key of ["KeyF", "KeyK", "KeyL"]) await page.keyboard.press(key);
  await tell("left attack, right parry, right riposte");
  await pause(300);
  for (const key of ["KeyN", "KeyH", "Digit0"]) await page.keyboard.press(key);
  await tell("touch right");

  await page.keyboard.press("KeyV");
  await tell("2");
  await page.keyboard.press("KeyJ");
  await page.keyboard.press("KeyJ");
  await tell("right compound attack");
  await pause(300);
  for (const key of ["KeyN", "KeyY", "Digit5"]) await page.keyboard.press(key);
  await tell("no touch");

  await page.keyboard.press("KeyV");
  await tell("3");
  await page.keyboard.press("Shift+KeyF");
  await tell("both attack");
  await pause(300);
  for (const key of ["KeyN", "KeyB", "Digit1"]) await page.keyboard.press(key);
  await tell("touch left");

  await page.keyboard.press("KeyM");
  await tell("right");
  await page.keyboard.press("Digit5");
  await tell("changed");
  await pause(2200);
  await page.keyboard.press("KeyX");
  await tell("yellow");
  await page.keyboard.press("Space");
  await page.keyboard.press("Control+s");

  const entries = await logWith(editor, (list) => list.length === 5);
  assert.deepEqual(
    entries.map(({ kind, start: _start, halt: _halt, at: _at, ...rest }) => ({ kind, ...rest })),
    [
      {
        kind: "phrase",
        actions: ["left attack", "right parry", "right riposte"],
        lamps: { right: "valid" },
        award: "right",
      },
      {
        kind: "phrase",
        actions: ["right compound attack"],
        lamps: { right: "off-target" },
        award: "none",
        because: "off-target",
      },
      { kind: "phrase", actions: ["both attack"], lamps: { left: "valid", right: "valid" }, award: "left" },
      { kind: "review", by: "right", result: "changed", award: "none" },
      { kind: "card", to: "left", card: "yellow" },
    ],
  );
  for (const entry of entries.filter(({ kind }) => kind === "phrase")) {
    const [start, halt] = [entry.start, entry.halt].map(milliseconds);
    assert.ok(halt > start, `${entry.halt} is after ${entry.start}`);
    assert.equal(start % frame, 0, `${entry.start} is a frame's time`);
    assert.equal(halt % frame, 0, `${entry.halt} is a frame's time`);
  }
  await editor.screenshot("tagged-by-keys");
});

test("one step is undone from the viewer and one from the text", async (editor) => {
  const { page } = editor;
  const viewer = await shownViewer(editor);
  await listen(viewer);
  await page.keyboard.press("Control+z");
  await page.keyboard.press("Control+s");
  await logWith(editor, (list) => list.length === 4);
  await page.locator(".monaco-editor .view-lines").last().click();
  await page.keyboard.press("Control+z");
  await page.keyboard.press("Control+s");
  const entries = await logWith(editor, (list) => list.at(-1)?.result === "kept");
  assert.deepEqual(
    entries.map(({ kind, result }) => result ?? kind),
    ["phrase", "phrase", "phrase", "kept"],
  );
});

test("letters typed into a text field are text, not tags", async (editor) => {
  const { page } = editor;
  const viewer = await shownViewer(editor);
  await listen(viewer);
  // Again and again, since the editor may still be giving the viewer its keys; the note is made once.
  const field = viewer.locator("textarea:focus, input:focus");
  for (let press = 0; press < 8 && (await field.count()) === 0; press += 1) {
    await page.keyboard.press("Digit9");
    await field.waitFor({ timeout: 4000 }).catch(() => undefined);
  }
  await page.keyboard.type("fv kjn 0");
  await page.keyboard.press("Enter");
  await page.keyboard.press("Control+s");
  const entries = await logWith(editor, (list) => list.some(({ text }) => text === "fv kjn 0"));
  assert.equal(entries.length, 5);
});

test("a reload in the middle of a phrase loses nothing", async (editor) => {
  const { page } = editor;
  const viewer = await shownViewer(editor);
  await listen(viewer);
  await goTo(viewer, page, "0:00:40.000");
  await page.keyboard.press("KeyV");
  await viewer.locator('.sentence[data-state="open"]').waitFor();
  await page.keyboard.press("KeyD");
  await viewer.locator(parts.sentence).filter({ hasText: "left parry" }).waitFor();
  await pause(3000); // The editor keeps unsaved text on disk a moment after the last change.
  await page.reload();
  await editor.workbench.ready(120);
  const again = await shownViewer(editor);
  await pictureReady(again);
  await listen(again);
  await goTo(again, page, "0:00:41.000");
  await again.locator('.sentence[data-state="open"]').filter({ hasText: "left parry" }).waitFor();
  await page.keyboard.press("KeyN");
  await again.locator('.sentence[data-state="waiting"]').waitFor();
  await page.keyboard.press("Control+s");
  const entries = await logWith(editor, (list) => list.at(-1)?.halt !== undefined);
  assert.deepEqual(entries.at(-1).actions, ["left parry"]);
}, 180);

test("what was saved is there when the file is opened again", async (editor) => {
  const before = log(editor);
  await editor.command("View: Close All Editors");
  await editor.workbench.openFiles([path.join(editor.folder, "demo-2.bout.json")]);
  const viewer = await shownViewer(editor);
  await viewer.locator(parts.ledger).filter({ hasText: "Left" }).waitFor();
  await pause(500);
  assert.deepEqual(log(editor), before);
  await editor.command("View: Close All Editors");
});

test("the study sheet shows the demo's figures and plays the phrases behind one", async (editor) => {
  const { page } = editor;
  await editor.workbench.openFiles([path.join(editor.folder, "demo.bout.json")]);
  const viewer = await shownViewer(editor);
  await pictureReady(viewer);
  await editor.command("Boutline: Study sheet");
  const sheet = await pageWith(editor, ".score-chart, main, article, h1", "Harbour Open");
  await sheet.locator("body").filter({ hasText: "12" }).waitFor();
  await editor.screenshot("study-sheet");
  await sheet.locator("button.evidence").nth(1).click();
  await pause(1500);
  await editor.screenshot("evidence-playing");
  const playing = await pageWith(editor, "video", undefined);
  await playing.locator(".caption-row:visible").waitFor();
  assert.ok(page);
});

test("the viewer, its text and the sheet in light, dark and high contrast", async (editor) => {
  await editor.command("View: Close All Editors");
  await editor.workbench.openFiles([path.join(editor.folder, "demo.bout.json")]);
  const viewer = await shownViewer(editor);
  await pictureReady(viewer);
  await listen(viewer);
  await goTo(viewer, editor.page, "0:00:13.000");
  await viewer.locator(parts.sentence).filter({ hasText: /lamp/ }).waitFor();
  for (const theme of Object.keys(themes)) {
    await editor.theme(theme);
    await pause(1200);
    await editor.screenshot(`viewer ${theme}`.toLowerCase().replaceAll(" ", "-"));
  }
}, 120);

await runTests({ viewport: { width: 1600, height: 1000 } });

/** Clicks into the picture and waits a moment, as a person would, until keys are the viewer's. */
async function listen(viewer) {
  await viewer.locator(parts.stage).click();
  await pause(1000);
}

/** Types a time into the transport, and waits until its frame is the one shown and keys are the viewer's again. */
async function goTo(viewer, page, time) {
  await viewer.locator("input.time").fill(time);
  await page.keyboard.press("Enter");
  const number = String(milliseconds(time) / frame);
  const shown = viewer.locator(".transport .frame");
  const deadline = Date.now() + 30_000;
  while ((await shown.innerText()).replace(/\D/g, "") !== number) {
    assert.ok(Date.now() < deadline, `frame ${number} does not come`);
    await pause(100);
  }
  await listen(viewer);
}

/** The page of the viewer, once it shows a bout. */
async function shownViewer(editor) {
  return pageWith(editor, parts.ledger, undefined);
}

/** The first visible page of ours that holds `selector` (with `text`). */
async function pageWith(editor, selector, text) {
  const deadline = Date.now() + 60_000;
  for (;;) {
    const count = await editor.page.locator("iframe.webview:visible").count();
    for (let index = 0; index < count; index += 1) {
      const found = editor.viewer(index).locator(selector);
      const wanted =
        text === undefined ? found : editor.viewer(index).locator("body").filter({ hasText: text });
      if ((await wanted.count().catch(() => 0)) > 0) return editor.viewer(index);
    }
    assert.ok(Date.now() < deadline, `no page shows ${selector} ${text ?? ""}`);
    await pause(200);
  }
}

async function pictureReady(viewer) {
  await viewer.locator("video").first().waitFor({ state: "attached", timeout: 60_000 });
  const deadline = Date.now() + 60_000;
  while (
    (await viewer
      .locator("video")
      .first()
      .evaluate((video) => video.readyState)) < 2
  ) {
    assert.ok(Date.now() < deadline, "the picture does not come");
    await pause(200);
  }
}

/** The log as saved on disk. */
function log(editor) {
  const text = readFileSync(path.join(editor.folder, "demo-2.bout.json"), "utf8");
  return JSON.parse(text.replace(/^\s*\/\/.*$/gm, "")).log;
}

async function logWith(editor, holds) {
  const deadline = Date.now() + 15_000;
  for (;;) {
    const found = log(editor);
    if (holds(found)) return found;
    assert.ok(Date.now() < deadline, `the log saved is ${JSON.stringify(found)}`);
    await editor.page.keyboard.press("Control+s");
    await pause(250);
  }
}

function milliseconds(time) {
  const [hours, minutes, seconds] = time.split(":").map(Number);
  return Math.round(((hours * 60 + minutes) * 60 + seconds) * 1000);
}

function hash(file) {
  return createHash("sha256").update(readFileSync(file)).digest("hex");
}

function find(folder, wanted) {
  if (!existsSync(folder)) return undefined;
  return readdirSync(folder, { recursive: true })
    .map((name) => path.join(folder, String(name)))
    .find(wanted);
}
