// The brief in the editor: made of a folder of generated bouts, its figures played across recordings, its plan typed,
// fought over, and there again after the window was loaded again.
import assert from "node:assert/strict";
import { execFileSync } from "node:child_process";
import { mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { createRequire } from "node:module";
import os from "node:os";
import path from "node:path";
import { setTimeout as pause } from "node:timers/promises";
import esbuild from "esbuild";
import { launchChromium } from "../run/chromium.mjs";
import { checkout, screens } from "../run/places.mjs";
import { runTests, test, themes } from "./harness.mjs";

const bouts = mkdtempSync(path.join(os.tmpdir(), "brief-bouts-"));

/** Thirty bouts of `tarn`, without recordings, and two of `wend` with one phrase each and a recording, a third without. */
async function fillFolder() {
  const built = path.join(bouts, "season.cjs");
  await esbuild.build({
    absWorkingDir: checkout,
    entryPoints: ["test/figures/brief/season.ts"],
    outfile: built,
    bundle: true,
    platform: "node",
    format: "cjs",
    mainFields: ["module", "main"],
  });
  const { seasonTexts, strongOpener } = createRequire(import.meta.url)(built);
  rmSync(built);
  mkdirSync(path.join(bouts, "season"));
  mkdirSync(path.join(bouts, "short"));
  for (const { file, text } of seasonTexts(30, strongOpener, 7, 60, "elimination"))
    writeFileSync(path.join(bouts, file), text);
  for (const [name, recording] of [
    ["one", "one.mp4"],
    ["two", "gone.mp4"],
    ["three", "three.mp4"],
  ])
    writeFileSync(path.join(bouts, "short", `${name}.bout.json`), shortBout(name, recording));
  for (const name of ["one.mp4", "three.mp4"]) makeRecording(path.join(bouts, "short", name));
}

function shortBout(name, recording) {
  const day = { one: "2026-01-10", two: "2026-02-10", three: "2026-03-10" }[name];
  return `{
  "boutline": 1,
  "bout": { "title": "Short ${name}", "date": "${day}", "weapon": "foil", "format": "training", "rules": "wheelchair-2026" },
  "fencers": {
    "left": { "id": "wend", "name": "Sabel Wend" },
    "right": { "id": "crome-${name}", "name": "Nera Crome ${name}" }
  },
  "recordings": [{ "file": "${recording}" }],
  "log": [
    { "kind": "phrase", "start": "0:00:02.000", "halt": "0:00:03.000", "actions": ["left attack"], "lamps": { "left": "valid" }, "award": "left" }
  ]
}
`;
}

function makeRecording(file) {
  execFileSync("ffmpeg", [
    ...["-loglevel", "error", "-f", "lavfi", "-i", "testsrc2=size=160x120:rate=25:duration=8"],
    ...["-c:v", "libx264", "-g", "12", "-pix_fmt", "yuv420p", file],
  ]);
}

/** The page with the brief on the fencer of this name. */
async function briefOn({ page }, name) {
  for (let attempt = 0; attempt < 150; attempt++) {
    for (const frame of page.frames()) {
      const heading = frame.locator("#brief h1", { hasText: `Brief on ${name}` });
      if ((await heading.count().catch(() => 0)) > 0 && (await heading.isVisible())) return frame;
    }
    await page.waitForTimeout(200);
  }
  throw new Error(`There is no brief on ${name} in the window.`);
}

async function choose({ page }, text) {
  const row = page.locator(".quick-input-widget:visible .monaco-list-row", { hasText: text }).first();
  await row.waitFor();
  await pause(600);
  await row.click();
}

async function open(editor, name) {
  await editor.command("Boutline: Brief on a fencer");
  await choose(editor, name);
  await choose(editor, "All opponents");
  return briefOn(editor, name);
}

async function until(holds, complaint) {
  const deadline = Date.now() + 20_000;
  while (!(await holds())) {
    assert.ok(Date.now() < deadline, complaint);
    await pause(150);
  }
}

await fillFolder();
const planOf = ({ folder }) => path.join(folder, "tarn.plan.json");
const written = (editor) => JSON.parse(readFileSync(planOf(editor), "utf8"));

test("a folder of thirty bouts gives a brief worth reading", async (editor) => {
  const brief = await open(editor, "Vessa Tarn");
  await brief.locator("header", { hasText: "30 bouts, 10 January 2024 to" }).waitFor();
  const said = await brief.locator(".sentences li > p:first-child").allInnerTexts();
  assert.ok(said.length >= 3 && said.length <= 5, said.join(" | "));
  assert.equal(await brief.locator(".thing").count(), 3);
  assert.equal((await brief.locator(".cautions li").count()) > 3, true);
  await editor.screenshot("brief");
});

test("what is typed in the plan is kept beside the bouts, tied to the phrases it was written beside", async (editor) => {
  const brief = await briefOn(editor, "Vessa Tarn");
  await brief.locator("#thing-1").fill("Make her answer: open short, draw the parry");
  await brief.locator(".thing .state", { hasText: "Kept in tarn.plan.json." }).waitFor();
  const [thing] = written(editor).things;
  assert.equal(thing.do, "Make her answer: open short, draw the parry");
  assert.ok(thing.ties[0].bouts.length > 10);
  assert.match(thing.ties[0].bouts[0].bout, /^season\/bout-\d{3}\.bout\.json$/);
  await brief.locator('.ties [data-key="plan.0.tie.0"]').waitFor();
  await editor.screenshot("brief plan");
});

test("a bout that comes is in the brief, and what is being typed stays", async (editor) => {
  const brief = await briefOn(editor, "Vessa Tarn");
  const field = brief.locator("#thing-2");
  await field.fill("Half a");
  await brief.evaluate(() => scrollTo(0, 250));
  const text = readFileSync(path.join(editor.folder, "season", "bout-030.bout.json"), "utf8");
  const another = text
    .replace('"round 30"', '"round 31"')
    .replace('"bout-30.mp4"', '"bout-31.mp4"')
    .replace('"Foil, meeting 30"', '"Foil, meeting 31"');
  writeFileSync(path.join(editor.folder, "season", "bout-031.bout.json"), another);
  await field.press("End");
  await field.pressSequentially(" thought", { delay: 60 });
  await brief.locator("header", { hasText: "31 bouts" }).waitFor();
  assert.equal(await field.inputValue(), "Half a thought");
  assert.equal(await brief.evaluate(() => document.activeElement?.id), "thing-2");
  assert.equal(await brief.evaluate(() => scrollY), 250);
  rmSync(path.join(editor.folder, "season", "bout-031.bout.json"));
  await brief.locator("header", { hasText: "30 bouts" }).waitFor();
});

test("what somebody else writes in the file meanwhile is not lost", async (editor) => {
  const brief = await briefOn(editor, "Vessa Tarn");
  await until(() => written(editor).things[1]?.do === "Half a thought", "the second thing is not kept");
  const plan = written(editor);
  plan.things[1].do = "Theirs";
  // Typed and written elsewhere within the time in which nothing is kept yet.
  await brief.locator("#thing-2").fill("Half a thought of mine");
  writeFileSync(planOf(editor), JSON.stringify(plan));
  const choice = brief.locator(".thing").nth(1).locator(".choice");
  await choice.locator("blockquote", { hasText: "Theirs" }).waitFor();
  assert.equal(written(editor).things[1].do, "Theirs");
  await editor.screenshot("brief two writers");
  await choice.getByRole("button", { name: "Keep both" }).click();
  await until(() => written(editor).things[1].do === "Theirs\nHalf a thought of mine", "not both are kept");
});

test("the plan is there again after the window was loaded again", async (editor) => {
  await editor.reload("subject");
  const brief = await briefOn(editor, "Vessa Tarn");
  await until(
    async () =>
      (await brief.locator("#thing-1").inputValue()) === "Make her answer: open short, draw the parry",
    "the first thing is not there",
  );
  assert.equal(await brief.locator("#thing-2").inputValue(), "Theirs\nHalf a thought of mine");
}, 120);

test("a damaged plan is told and stays as it is; what is typed waits until it is put right", async (editor) => {
  const brief = await briefOn(editor, "Vessa Tarn");
  const good = readFileSync(planOf(editor), "utf8");
  writeFileSync(planOf(editor), "{ half");
  await brief.locator(".plan-panel .answer", { hasText: "tarn.plan.json can't be used" }).waitFor();
  await brief.locator("#thing-3").fill("Watch the clock");
  await brief.locator(".thing .state", { hasText: "stays here meanwhile" }).waitFor();
  assert.equal(readFileSync(planOf(editor), "utf8"), "{ half");
  writeFileSync(planOf(editor), good);
  await until(() => written(editor).things[2]?.do === "Watch the clock", "it is not kept afterwards");
});

test("the file that is saved is the one the command writes, and prints with the plan on a page of its own", async (editor) => {
  const brief = await briefOn(editor, "Vessa Tarn");
  await brief.locator("[data-save]").click();
  const dialog = editor.page.locator(".quick-input-widget:visible");
  await dialog.locator("input[type=text]").waitFor();
  await pause(600);
  await dialog.locator("input[type=text]").fill(path.join(editor.folder, "saved.html"));
  await pause(400);
  await editor.page.keyboard.press("Enter");
  await brief.locator(".foot", { hasText: "Saved as saved.html." }).waitFor();
  const cli = path.join(checkout, "dist", "cli.js");
  execFileSync(process.execPath, [cli, "brief", "--fencer", "tarn", "--html", "command.html", "."], {
    cwd: editor.folder,
  });
  const [saved, command] = ["saved.html", "command.html"].map((name) =>
    readFileSync(path.join(editor.folder, name), "utf8"),
  );
  assert.equal(saved, command);
  assert.match(saved, /Make her answer: open short/);
  const browser = await launchChromium();
  try {
    const millimetre = 96 / 25.4;
    const page = await browser.newPage({ viewport: { width: Math.round(194 * millimetre), height: 1000 } });
    await page.setContent(saved);
    await page.pdf({ path: path.join(screens, "brief printed.pdf"), preferCSSPageSize: true });
    await page.emulateMedia({ media: "print" });
    const plan = await page.locator("#plan").evaluate((one) => {
      const { breakBefore, breakAfter } = getComputedStyle(one);
      return { breakBefore, breakAfter, height: one.getBoundingClientRect().height, text: one.innerText };
    });
    assert.equal(`${plan.breakBefore} ${plan.breakAfter}`, "page page");
    assert.ok(plan.height < 283 * millimetre, `the plan is ${plan.height} high`);
    assert.match(plan.text, /Watch the clock/);
  } finally {
    await browser.close();
  }
});

for (const name of Object.keys(themes))
  test(`axe finds nothing in ${name}`, async (editor) => {
    await editor.theme(name);
    const brief = await briefOn(editor, "Vessa Tarn");
    await pause(500);
    await editor.screenshot(`brief ${name}`);
    const axe = readFileSync(path.join(checkout, "node_modules", "axe-core", "axe.min.js"), "utf8");
    await brief.evaluate((source) => (0, eval)(source), axe);
    const { violations } = await brief.evaluate(() =>
      globalThis.axe.run({ rules: { "target-size": { enabled: true } } }),
    );
    assert.deepEqual(
      violations.map(({ id, nodes }) => `${id}: ${nodes.map(({ html }) => html).join(" ")}`),
      [],
    );
  });

test("a figure plays its phrases across recordings, and passes over a bout whose recording is missing", async (editor) => {
  const brief = await open(editor, "Sabel Wend");
  await brief.locator('[data-key="all"]').click();
  const bar = brief.locator(".playing:visible");
  await bar.locator("p", { hasText: "Bout 1 of 3: one, Nera Crome one, 1 phrase" }).waitFor();
  const tab = (name) => editor.page.locator(`.tab.active[data-resource-name="${name}"]`);
  await tab("one.bout.json").waitFor();
  await editor.screenshot("brief playing");
  await bar.locator("p", { hasText: "Bout 3 of 3: three" }).waitFor({ timeout: 30_000 });
  await bar.locator("li", { hasText: "two, Nera Crome two: its recording gone.mp4 is not there." }).waitFor();
  await tab("three.bout.json").waitFor();
  assert.equal(await editor.page.locator('.tab[data-resource-name="one.bout.json"]').count(), 0);
  await bar.locator("p", { hasText: "All played." }).waitFor({ timeout: 30_000 });
  await editor.screenshot("brief played");
  await bar.getByRole("button", { name: "Tie to 1" }).click();
  await brief.locator(".ties", { hasText: "all phrases" }).waitFor();
  await bar.getByRole("button", { name: "Close" }).click();
}, 120);

await runTests({ demo: bouts });
rmSync(bouts, { recursive: true, force: true });
