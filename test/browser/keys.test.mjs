// Keys the page has seen come back from the editor are acted on at once: in the order pressed, each once, and never
// against what the user's own keybindings say.
import assert from "node:assert/strict";
import { readFileSync, writeFileSync } from "node:fs";
import path from "node:path";
import { setTimeout as pause } from "node:timers/promises";
import { runTests, test } from "./harness.mjs";

const bout = {
  boutline: 1,
  bout: { weapon: "foil", format: "elimination", rules: "wheelchair-2026" },
  recordings: [{ file: "demo.mp4" }],
  fencers: { left: { name: "Ansa Rill" }, right: { name: "Jorun Velm" } },
  log: [],
};

test("a key goes round through the editor once and is then acted on by the page, in order", async (editor) => {
  const { page } = editor;
  writeFileSync(fileOf(editor), JSON.stringify(bout, undefined, 2));
  await editor.workbench.openFiles([fileOf(editor)]);
  const viewer = editor.viewer();
  await viewer.locator("video").first().waitFor({ state: "attached", timeout: 60_000 });
  await focus(viewer);
  // Until the editor has given the viewer its keys they come to nothing.
  for (let press = 0; press < 20 && (await log(editor)).length === 0; press += 1) await pressed(page, "KeyV");
  assert.equal((await log(editor)).length, 1);
  await page.keyboard.press("ArrowRight");
  for (const key of ["KeyF", "KeyK", "KeyL"]) await pressed(page, key);
  assert.deepEqual((await log(editor))[0].actions, ["left attack", "right parry", "right riposte"]);

  await viewer.locator("body").evaluate(() => {
    window.toEditor = [];
    window.addEventListener("keydown", ({ code }) => window.toEditor.push(code));
  });
  const burst = ["KeyK", "KeyL", "KeyF", "KeyK", "KeyL", "KeyF"];
  for (const key of ["Backspace", "Backspace", "Backspace"]) await pressed(page, key);
  for (const key of burst) await page.keyboard.press(key);
  await pause(1500);
  assert.deepEqual((await log(editor))[0].actions, [
    ...["right parry", "right riposte", "left attack"],
    ...["right parry", "right riposte", "left attack"],
  ]);
  const toEditor = await viewer.locator("body").evaluate(() => window.toEditor);
  assert.deepEqual(
    toEditor.filter((code) => burst.includes(code)),
    [],
  );
});

test("a known key held down does not tag again and again", async (editor) => {
  const { page } = editor;
  const before = (await log(editor))[0].actions;
  assert.equal(before.at(-1), "left attack");
  await pressed(page, "Backspace");
  for (let again = 0; again < 10; again += 1) await page.keyboard.down("KeyF");
  await page.keyboard.up("KeyF");
  await pause(800);
  // Pressed twice it would have gone on to the next action of its family.
  assert.deepEqual((await log(editor))[0].actions, before);
});

test("a key chord of the editor's is left to it", async (editor) => {
  const { page } = editor;
  const before = (await log(editor))[0].actions;
  await page.keyboard.press("Control+k");
  await pause(300);
  await page.keyboard.press("KeyL");
  await pause(800);
  // The second half of a chord that has no command: not a riposte.
  assert.deepEqual((await log(editor))[0].actions, before);
});

test("a key the user gives to something else does that at once", async (editor) => {
  const { page } = editor;
  await focus(editor.viewer());
  await pressed(page, "KeyK");
  const before = (await log(editor))[0];
  assert.equal(before.actions.at(-1), "right parry");
  await editor.command("Preferences: Open Keyboard Shortcuts (JSON)");
  await page.locator('.tab.active[data-resource-name="keybindings.json"]').waitFor();
  await pause(500);
  await page.keyboard.press("Control+a");
  await page.keyboard.insertText(
    '[{ "key": "[KeyK]", "command": "boutline.star", "when": "boutline.viewerFocused" }]',
  );
  await page.keyboard.press("Control+s");
  await pause(1500);
  await page
    .locator(`.tab[data-resource-name="${path.basename(fileOf(editor))}"]`)
    .first()
    .click();
  await focus(editor.viewer());
  await pressed(page, "KeyK");
  const after = (await log(editor))[0];
  assert.deepEqual(after.actions, before.actions);
  assert.equal(after.star, true);
});

await runTests();

function fileOf(editor) {
  return path.join(editor.folder, "keys.bout.json");
}

async function focus(viewer) {
  await viewer.locator(".stage").click({ position: { x: 60, y: 60 } });
  await pause(700);
}

/** Presses a key and lets the editor's answer come back. */
async function pressed(page, key) {
  await page.keyboard.press(key);
  await pause(700);
}

/** The log as it is saved now. */
async function log(editor) {
  await editor.page.keyboard.press("Control+s");
  await pause(700);
  return JSON.parse(readFileSync(fileOf(editor), "utf8")).log;
}
