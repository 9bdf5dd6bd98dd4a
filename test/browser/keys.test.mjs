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
  const open = viewer.locator('.sentence[data-state="open"]');
  for (let press = 0; press < 20 && (await open.count()) === 0; press += 1) await pressed(page, "KeyV");
  await page.keyboard.press("ArrowRight");
  const says = (words) => open.filter({ hasText: words }).waitFor();
  await pressed(page, "KeyF");
  await says("left attack");
  await pressed(page, "KeyK");
  await says("left attack, right parry");
  await pressed(page, "KeyL");
  await says("left attack, right parry, right riposte");

  await viewer.locator("body").evaluate(() => {
    window.toEditor = [];
    window.addEventListener("keydown", ({ code }) => window.toEditor.push(code));
  });
  const burst = ["KeyK", "KeyL", "KeyF", "KeyK", "KeyL", "KeyF"];
  for (const left of ["left attack, right parry:", "left attack:"]) {
    await pressed(page, "Backspace");
    await says(left);
  }
  await pressed(page, "Backspace");
  for (const key of burst) await page.keyboard.press(key);
  const three = ["right parry", "right riposte", "left attack"];
  await actionsAre(editor, [...three, ...three]);
  const toEditor = await viewer.locator("body").evaluate(() => window.toEditor);
  assert.deepEqual(
    toEditor.filter((code) => burst.includes(code)),
    [],
  );
});

test("a known key held down does not tag again and again", async (editor) => {
  const { page } = editor;
  const before = (await phrase(editor)).actions;
  assert.equal(before.at(-1), "left attack");
  await pressed(page, "Backspace");
  await actionsAre(editor, before.slice(0, -1));
  await pressed(page, "ArrowRight");
  for (let again = 0; again < 10; again += 1) await page.keyboard.down("KeyF");
  await page.keyboard.up("KeyF");
  await actionsAre(editor, before);
  // Pressed twice it would have gone on to the next action of its family.
  await pause(700);
  await actionsAre(editor, before);
});

test("a key chord of the editor's is left to it", async (editor) => {
  const { page } = editor;
  const before = (await phrase(editor)).actions;
  await page.keyboard.press("Control+k");
  await pause(300);
  await page.keyboard.press("KeyL");
  await pause(1500);
  // The second half of a chord that has no command: not a riposte.
  await actionsAre(editor, before);
});

test("a key the user gives to something else does that at once", async (editor) => {
  const { page } = editor;
  await focus(editor.viewer());
  const before = (await phrase(editor)).actions;
  await pressed(page, "KeyK");
  await actionsAre(editor, [...before, "right parry"]);
  await editor.command("Preferences: Open Keyboard Shortcuts (JSON)");
  await page.locator('.tab.active[data-resource-name="keybindings.json"]').waitFor();
  await pause(1000);
  await page.keyboard.press("Control+a");
  await page.keyboard.insertText(
    '[{ "key": "[KeyK]", "command": "boutline.star", "when": "boutline.viewerFocused" }]',
  );
  await page.keyboard.press("Control+s");
  await page.locator('.tab.dirty[data-resource-name="keybindings.json"]').waitFor({ state: "detached" });
  await pause(1500);
  await page
    .locator(`.tab[data-resource-name="${path.basename(fileOf(editor))}"]`)
    .first()
    .click();
  await focus(editor.viewer());
  await pressed(page, "KeyK");
  await until(editor, ({ star }) => star === true);
  await actionsAre(editor, [...before, "right parry"]);
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

/** The phrase as it is saved now. */
async function phrase(editor) {
  await editor.page.keyboard.press("Control+s");
  await pause(700);
  return JSON.parse(readFileSync(fileOf(editor), "utf8")).log[0];
}

async function until(editor, holds) {
  const deadline = Date.now() + 15_000;
  for (;;) {
    const found = await phrase(editor);
    if (holds(found)) return;
    assert.ok(Date.now() < deadline, `the phrase is ${JSON.stringify(found)}`);
  }
}

function actionsAre(editor, actions) {
  return until(editor, (phrase) => JSON.stringify(phrase.actions ?? []) === JSON.stringify(actions));
}
