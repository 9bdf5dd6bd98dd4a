// Phrases picked in the viewer, saved beside the bout file, previewed and cut into clips and a reel, as a user does it.
import assert from "node:assert/strict";
import { execFileSync } from "node:child_process";
import { existsSync, readdirSync, readFileSync, statSync, writeFileSync } from "node:fs";
import path from "node:path";
import { setTimeout as pause } from "node:timers/promises";
import { parse } from "jsonc-parser";
import { checkout } from "../run/places.mjs";
import { runTests, test, themes } from "./harness.mjs";

test("what is asked of the phrases picks them, with their count and length in words", async (editor) => {
  await editor.open("demo.bout.json");
  const viewer = editor.viewer();
  await viewer.locator(".ledger").filter({ hasText: "Vessa Tarn" }).waitFor();
  await editor.command("Boutline: Pick phrases by what they hold");
  await viewer.locator(".picks .questions select").first().waitFor();
  await viewer.locator('.picks select[data-part="star"]').selectOption({ index: 1 });
  await viewer.locator(".picks .count").filter({ hasText: "2 phrases" }).waitFor();
  await editor.screenshot("picks");
});

test("a pick is saved under a name as plain JSON beside the bout file", async (editor) => {
  const viewer = editor.viewer();
  await viewer.getByRole("button", { name: "Save…" }).click();
  const input = editor.page.locator(".quick-input-widget:visible input").first();
  await input.fill("the starred ones");
  // The name is looked at before it may be confirmed.
  await pause(500);
  await input.press("Enter");
  const file = path.join(editor.folder, "demo.picks.json");
  await until(() => existsSync(file), "the pick was not saved");
  const { picks, saved } = JSON.parse(readFileSync(file, "utf8"));
  assert.equal(picks, 1);
  assert.deepEqual(
    saved.map(({ name, pick }) => [name, pick]),
    [["the starred ones", { star: true }]],
  );
});

test("what will be cut is shown first, then cut into the folder chosen", async (editor) => {
  const viewer = editor.viewer();
  await viewer.getByRole("button", { name: "Cut training clips…" }).click();
  const preview = viewer.locator(".picks .preview");
  await preview.locator(".total").filter({ hasText: "2 clips" }).waitFor({ timeout: 30_000 });
  await opensInSight(viewer, "What will be cut: 2 clips");
  await viewer.getByLabel("captions of the call beside the clip").check();
  await preview.locator(".total").filter({ hasText: "2 clips" }).waitFor();
  await editor.screenshot("clips-preview");
  await preview.getByRole("button", { name: "Cut each as a clip…" }).click();
  await acceptFolder(editor, "Cut Here");
  const manifest = path.join(editor.folder, "clips.json");
  await until(() => existsSync(manifest), "no clip was cut");
  const { made: clips } = JSON.parse(readFileSync(manifest, "utf8"));
  assert.equal(clips.length, 2);
  const names = readdirSync(editor.folder).filter((name) => name.endsWith(".mp4") && name !== "demo.mp4");
  assert.equal(names.length, 2, names.join());
  assert.equal(readdirSync(editor.folder).filter((name) => name.endsWith(".vtt")).length, 2);
  for (const name of names) {
    const length = lengthOf(path.join(editor.folder, name));
    assert.ok(length > 2 && length < 10, `${name} lasts ${length} s`);
  }
  assert.deepEqual(
    readdirSync(editor.folder).filter((name) => /part|tmp/.test(name)),
    [],
  );
});

test("clips that are there already are replaced only when told to", async (editor) => {
  const viewer = editor.viewer();
  const manifest = path.join(editor.folder, "clips.json");
  const before = readFileSync(manifest, "utf8");
  await viewer.locator(".picks .preview").getByRole("button", { name: "Cut each as a clip…" }).click();
  await acceptFolder(editor, "Cut Here");
  const dialog = editor.page.locator(".monaco-dialog-box");
  await dialog.filter({ hasText: "there already" }).waitFor();
  await dialog.getByRole("button", { name: "Cancel" }).click();
  await pause(1000);
  assert.equal(readFileSync(manifest, "utf8"), before);
});

test("a reel is shown for what it is before it is made", async (editor) => {
  const viewer = editor.viewer();
  await viewer.getByRole("button", { name: "Make a reel…" }).click();
  const preview = viewer.locator(".picks .preview");
  await preview.locator("h3").filter({ hasText: "What the reel will hold" }).waitFor({ timeout: 30_000 });
  await preview.locator(".total").filter({ hasText: "One reel of 2 clips" }).waitFor();
  await opensInSight(viewer, "What the reel will hold: One reel of 2 clips");
  assert.equal(await preview.getByRole("button", { name: "Cut each as a clip…" }).isVisible(), false);
  await editor.screenshot("reel-preview");
  assert.equal(await preview.getByRole("button", { name: "Make one reel…" }).isEnabled(), true);
});

test("the reel is made where it was asked for, plays, and holds the phrases that were shown", async (editor) => {
  const preview = editor.viewer().locator(".picks .preview");
  const { log } = parse(readFileSync(path.join(editor.folder, "demo.bout.json"), "utf8"));
  const starred = log.filter(({ kind, star }) => kind === "phrase" && star === true).length;
  assert.equal(await preview.locator("tbody tr").count(), starred);
  await preview.getByRole("button", { name: "Make one reel…" }).click();
  const asked = editor.page.locator(".quick-input-widget:visible");
  await asked.filter({ hasText: "How large may the reel be?" }).waitFor();
  // Menus take no notice of what is pressed straight after they open.
  await pause(500);
  await asked.getByText("at most 16 MB").click();
  await asked.filter({ hasText: "Where does the reel go?" }).waitFor();
  await pause(500);
  await asked.getByRole("button", { name: "OK" }).click();
  const told = editor.page.locator(".notification-toast").filter({ hasText: "demo reel.mp4" });
  await told.filter({ hasText: `${starred} clips` }).waitFor({ timeout: 40_000 });
  const reel = path.join(editor.folder, "demo reel.mp4");
  assert.ok(statSync(reel).size < 16e6);
  // Decoded from end to end without a complaint.
  assert.equal(
    execFileSync("ffmpeg", ["-v", "error", "-i", reel, "-f", "null", "-"], {
      encoding: "utf8",
      stdio: "pipe",
    }),
    "",
  );
  const { made } = JSON.parse(readFileSync(path.join(editor.folder, "clips.json"), "utf8"));
  const clips = made.reduce((sum, { duration }) => sum + duration, 0);
  const length = lengthOf(reel);
  assert.ok(Math.abs(length - clips) < 0.2, `the reel lasts ${length} s, its clips ${clips} s`);
});

test("a recording that is another than when clips were cut from it is named, and cut only when told to", async (editor) => {
  const viewer = editor.viewer();
  const manifest = path.join(editor.folder, "clips.json");
  const before = readFileSync(manifest, "utf8");
  const another = before.replaceAll(/"fingerprint": "[^"]*"/g, `"fingerprint": "${"0".repeat(32)}"`);
  assert.notEqual(another, before);
  writeFileSync(manifest, another);
  await viewer.getByRole("button", { name: "Cut training clips…" }).click();
  const preview = viewer.locator(".picks .preview");
  await preview
    .locator(".notes")
    .filter({ hasText: "is another recording than when the clips of" })
    .waitFor();
  await preview.getByRole("button", { name: "Cut each as a clip…" }).click();
  await acceptFolder(editor, "Cut Here");
  const dialog = editor.page.locator(".monaco-dialog-box");
  await dialog.filter({ hasText: "is another recording than when the clips of" }).waitFor();
  await editor.screenshot("clips-changed");
  await dialog.getByRole("button", { name: "Cancel" }).click();
  await pause(1000);
  assert.equal(readFileSync(manifest, "utf8"), another);
  writeFileSync(manifest, before);
});

test("cutting given up in the middle leaves what was there, and no ffmpeg running", async (editor) => {
  const viewer = editor.viewer();
  const before = readdirSync(editor.folder).toSorted();
  const manifest = readFileSync(path.join(editor.folder, "clips.json"), "utf8");
  await viewer.locator('.picks select[data-part="star"]').selectOption("");
  await viewer.locator('.picks select[data-part="bothLamps"]').selectOption({ index: 2 });
  await viewer.getByRole("button", { name: "Cut training clips…" }).click();
  const preview = viewer.locator(".picks .preview");
  await preview.getByRole("button", { name: "Cut each as a clip…" }).click({ timeout: 30_000 });
  await acceptFolder(editor, "Cut Here");
  const dialog = editor.page.locator(".monaco-dialog-box");
  await dialog.getByRole("button", { name: "Replace" }).click();
  const working = () => readdirSync(editor.folder).some((name) => name.startsWith(".clips-part-"));
  await until(working, "cutting has not begun");
  await editor.page
    .locator(".notification-toast")
    .filter({ hasText: "Cutting" })
    .getByRole("button", { name: "Cancel" })
    .click();
  await until(() => !working(), "the work folder is still there");
  assert.deepEqual(readdirSync(editor.folder).toSorted(), before);
  assert.equal(readFileSync(path.join(editor.folder, "clips.json"), "utf8"), manifest);
  const running = execFileSync("ps", ["-eo", "args"], { encoding: "utf8" }).split("\n");
  assert.deepEqual(
    running.filter((line) => line.includes("ffmpeg") && line.includes(editor.folder)),
    [],
  );
});

test("the picks and their preview are readable in light, dark and high contrast", async (editor) => {
  for (const theme of Object.keys(themes)) {
    await editor.theme(theme);
    await editor.viewer().locator(".picks .preview").scrollIntoViewIfNeeded();
    assert.deepEqual(await violations(editor.viewer()), [], theme);
    await editor.screenshot(`picks-${theme}`);
  }
});

await runTests();

/** In seconds. */
function lengthOf(video) {
  const words = ["-v", "error", "-show_entries", "format=duration", "-of", "csv=p=0", video];
  return Number(execFileSync("ffprobe", words));
}

/** The preview has come into sight and is read out; after a press of the pointer the keyboard is the picture's. */
async function opensInSight(viewer, spoken) {
  await viewer.locator(".picks [role=status]").filter({ hasText: spoken }).waitFor();
  const seen = await viewer.locator(".picks .preview h3").evaluate((heading) => {
    const { left, top, bottom } = heading.getBoundingClientRect();
    const covering = [top + 1, bottom - 1].map((y) => document.elementFromPoint(left + 2, y)?.outerHTML);
    const picture = document.querySelector(".picture").getBoundingClientRect();
    return {
      ...{ covering, own: heading.outerHTML, focused: document.activeElement?.className },
      pictureStays: picture.top >= 0 && picture.bottom <= top,
    };
  });
  assert.deepEqual(seen.covering, [seen.own, seen.own]);
  assert.match(seen.focused, /stage/);
  assert.ok(seen.pictureStays, "the picture has gone out of sight");
}

async function violations(viewer) {
  const body = viewer.locator("body");
  const axe = readFileSync(path.join(checkout, "node_modules", "axe-core", "axe.min.js"), "utf8");
  // The page's own policy lets no script in; the test's comes through the driver.
  await body.evaluate((_, source) => (0, eval)(source), axe);
  const found = await body.evaluate(() => globalThis.axe.run(document.querySelector(".picks")));
  return found.violations.map(({ id, nodes }) => `${id}: ${nodes.map(({ html }) => html).join(" ")}`);
}

/** The editor asks for folders in its own quick input when it runs in a browser. */
async function acceptFolder(editor, button) {
  const widget = editor.page.locator(".quick-input-widget:visible");
  await widget.getByRole("button", { name: button }).click();
}

async function until(holds, complaint) {
  const deadline = Date.now() + 40_000;
  while (!holds()) {
    assert.ok(Date.now() < deadline, complaint);
    await pause(200);
  }
}
