// Recordings as they come: outside the opened folder, missing, and of every kind a camera makes. Each kind is opened,
// heard and gone through frame by frame, itself or by its viewing copy; which frame is shown is read from the picture.
import assert from "node:assert/strict";
import { copyFileSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import os from "node:os";
import path from "node:path";
import { kinds, makeSample, numberedPicture } from "../video/samples.mjs";
import { run } from "../run/programs.mjs";
import { runTests, test } from "./harness.mjs";
import { shown, watchDrawn } from "./samples.mjs";

/** A copy of the demo's bout file that names another recording. */
function boutFor(editor, name, recording) {
  const demo = readFileSync(path.join(editor.folder, "demo.bout.json"), "utf8");
  const file = path.join(editor.folder, `${name}.bout.json`);
  writeFileSync(file, demo.replace('"demo.mp4"', JSON.stringify(recording)));
  return file;
}

async function open({ page, folder, workbench }, name) {
  await workbench.openFiles([path.join(folder, `${name}.bout.json`)]);
  await page.locator(`.tab.active[data-resource-name="${name}.bout.json"]`).first().waitFor();
}

const picture = (editor) => editor.viewer().locator("video").first();
const hasPicture = (editor) =>
  picture(editor).evaluate((video) => video.readyState >= 2 && video.videoWidth > 0);

async function until(what, ask) {
  for (let left = 600; left > 0; left--) {
    if (await ask().catch(() => false)) return;
    await new Promise((resolve) => setTimeout(resolve, 60));
  }
  assert.fail(`Waited in vain until ${what}.`);
}

test("a recording outside the opened folder is played only once the user allows it", async (editor) => {
  copyFileSync(path.join(editor.folder, "demo.mp4"), path.join(editor.folder, "..", "elsewhere.mp4"));
  boutFor(editor, "outside", "../elsewhere.mp4");
  await open(editor, "outside");
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
  await open(editor, "gone");
  const find = editor.page.getByRole("button", { name: "Find It Again" });
  await find.waitFor({ timeout: 60_000 });
  await find.click();
  const byHand = editor.page
    .locator(".quick-input-widget:visible .monaco-list-row")
    .filter({ hasText: "Choose the file by hand" });
  await byHand.waitFor();
  await editor.page.waitForTimeout(500);
  await byHand.click();
  await editor.page
    .locator(".quick-input-widget:visible .monaco-list-row")
    .filter({ hasText: "demo.mp4" })
    .first()
    .click();
  await until("the recording is shown", () => hasPicture(editor));
  await until("the bout file is saved", () =>
    Promise.resolve(readFileSync(file, "utf8") === before.replace('"not-here.mp4"', '"demo.mp4"')),
  );
}, 120);

const stepped = 8;
const turns = { "turned.mp4": 1 };

/** Chromium here has no decoder for these, or none for their container. */
const neverItself = ["h264-aac.ts", "h264-mp3.avi", "interlaced.ts"];

test("one bout may name recordings of every kind", async (editor) => {
  const names = Object.keys(kinds);
  for (let index = 0; index < names.length; index += 2)
    await Promise.all(names.slice(index, index + 2).map((kind) => makeSample(editor.folder, kind)));
  const demo = readFileSync(path.join(editor.folder, "demo.bout.json"), "utf8");
  const recordings = names.map((file) => `{ "file": "${file}" }`).join(", ");
  const text = demo.replace('{ "file": "demo.mp4" }', recordings);
  assert.notEqual(text, demo);
  writeFileSync(path.join(editor.folder, "kinds.bout.json"), text);
  await open(editor, "kinds");
  await editor.viewer().getByLabel("Recording", { exact: true }).waitFor();
}, 150);

for (const [index, kind] of Object.keys(kinds).entries())
  test(`${kind} is shown${kinds[kind].sound ? ", heard" : ""} and gone through frame by frame`, async (editor) => {
    const viewer = editor.viewer();
    await viewer.getByLabel("Recording", { exact: true }).selectOption(String(index));
    const how = await check(viewer, kind);
    console.log(`          ${how}:`);
    if (neverItself.includes(kind)) assert.match(how, /^by its viewing copy/);
    // A viewing copy's key frames are always close enough for it.
    if (how.startsWith("by its viewing copy")) assert.match(how, /drawn at once$/);
  }, 90);

/** Goes through the first frames of a recording, jumps to its end and back, and answers how it is played. */
async function check(viewer, kind) {
  const { sound, firstNumber = 0 } = kinds[kind];
  const now = () => shown(viewer, turns[kind]);
  const see = async (what, wanted) => {
    let last;
    await until(`${kind}: ${what}`, async () => wanted((last = await now()))).catch((error) => {
      throw new Error(`${error.message} It shows ${JSON.stringify(last)}`);
    });
    return last;
  };
  const ready = ({ number, label, state }) => number !== null && label !== "" && !/viewing copy:/.test(state);
  // A recording that plays may still give way to a copy.
  let first = await see("the picture with its frame numbers", ready);
  await new Promise((resolve) => setTimeout(resolve, 700));
  first = await see("the picture as it stays", ready);
  if (sound) await see("sound", ({ heard }) => heard);
  const at = async (frame) => {
    const { number } = await see(
      `frame ${frame} shown as such`,
      (one) => one.frame === frame && one.number !== null,
    );
    return number;
  };
  const field = viewer.locator("input.time");
  const goTo = async (time) => {
    await field.fill(time);
    await field.press("Enter");
  };
  const forward = viewer.getByRole("button", { name: "frame ▸" });
  await goTo("0");
  const numbers = [await at(0)];
  for (let frame = 1; frame <= stepped; frame += 1) {
    await forward.dispatchEvent("click");
    numbers.push(await at(frame));
  }
  await viewer.getByRole("button", { name: "◂ frame" }).dispatchEvent("click");
  numbers.push(await at(stepped - 1));
  const wanted = [...Array(stepped + 1).keys(), stepped - 1].map((frame) => frame + firstNumber);
  assert.deepEqual(numbers, wanted, kind);
  // The last frame, which it can't go beyond.
  await goTo("9:00");
  const end = await see(
    "the last frame",
    ({ frame, number }) => frame > stepped && number === frame + firstNumber,
  );
  await forward.dispatchEvent("click");
  await new Promise((resolve) => setTimeout(resolve, 300));
  assert.equal((await now()).frame, end.frame, `${kind} has an end`);
  const isDrawn = await drawnLikePlayed(viewer, goTo, now, kind);
  return `${/viewing copy/.test(first.state) ? "by its viewing copy" : "itself"}${isDrawn ? ", drawn at once" : ""}`;
}

/** Goes to a frame that is drawn by itself at first and then shown by the video element; nobody may see a difference.
 * False where it was never drawn. */
async function drawnLikePlayed(viewer, goTo, now, kind) {
  const before = await now();
  const endWatch = await watchDrawn(viewer, turns[kind]);
  await goTo("0.5");
  let played;
  await until(`${kind}: the video element shows its frame`, async () => {
    played = await now();
    return played.number !== null && played.frame !== before.frame && !played.drawn;
  });
  // Time for what was drawn late.
  await new Promise((resolve) => setTimeout(resolve, 100));
  const drawn = (await endWatch()).at(-1);
  if (drawn === undefined) return false;
  assert.deepEqual([drawn.frame, drawn.number], [played.frame, played.number], kind);
  const differences = drawn.pixels.map((level, index) => Math.abs(level - played.pixels[index]));
  const mean = differences.reduce((sum, one) => sum + one, 0) / differences.length;
  assert.ok(mean < 1.5, `${kind}: drawn and played differ by ${mean.toFixed(2)} of 255 levels`);
  return true;
}

test("playing begins at the frame drawn last, and a decoder that fails leaves it to the video element", async (editor) => {
  const film = path.join(editor.folder, "near.mp4");
  const made = await run("ffmpeg", [
    ...["-nostdin", "-v", "error", "-y", ...numberedPicture("25", 30)],
    ...["-c:v", "libx264", "-preset", "ultrafast", "-g", "6", "-bf", "0", film],
  ]);
  assert.ok(made.ok, made.output);
  boutFor(editor, "near", "near.mp4");
  await open(editor, "near");
  const viewer = editor.viewer();
  const goTo = (time) =>
    viewer.locator("body").evaluate((body, time) => {
      const field = body.querySelector("input.time");
      field.value = time;
      field.dispatchEvent(new KeyboardEvent("keydown", { key: "Enter" }));
    }, time);
  const at = (frame) =>
    until(`frame ${frame} is seen`, async () => {
      const now = await shown(viewer);
      return now.frame === frame && now.number === frame;
    });
  await until("the picture and its frames", async () => (await shown(viewer)).frame === 0);
  // Frames are drawn from some moment on after that.
  let asked = 0;
  await until("a frame is drawn", async () => {
    asked = (asked + 50) % 700;
    await goTo(String(asked / 25));
    for (let left = 10; left > 0; left -= 1) if ((await shown(viewer)).drawn) return true;
    return false;
  });
  await goTo("10");
  await viewer.locator("body").evaluate((body) => {
    const seen = (window.framesSeen = []);
    const label = body.querySelector(".transport .frame");
    const look = () => {
      seen.push(Number(label.textContent.replace(/\D/g, "")));
      requestAnimationFrame(look);
    };
    look();
    body.querySelector(".stage").focus();
  });
  await at(250);
  await editor.page.keyboard.press("Space");
  await until("it plays on", async () => (await shown(viewer)).frame > 262);
  await editor.page.keyboard.press("Space");
  const seen = await viewer.locator("body").evaluate(() => window.framesSeen);
  const since = seen.slice(seen.indexOf(250));
  assert.ok(
    since.every((frame, index) => index === 0 || frame >= since[index - 1]),
    `never back while it begins to play: ${since.join()}`,
  );
  await until("it stands", async () => (await shown(viewer)).paused);

  // It fails while a frame that was drawn still covers the video element.
  const covered = await viewer.locator("body").evaluate(async (body) => {
    const field = body.querySelector("input.time");
    const canvas = body.querySelector(".film .drawn-frame");
    field.value = "12";
    field.dispatchEvent(new KeyboardEvent("keydown", { key: "Enter" }));
    const start = performance.now();
    while (canvas.hidden && performance.now() - start < 5000)
      await new Promise((resolve) => requestAnimationFrame(resolve));
    const isDrawn = !canvas.hidden;
    VideoDecoder.prototype.decode = () => {
      throw new Error("no decoder is left");
    };
    field.value = "20";
    field.dispatchEvent(new KeyboardEvent("keydown", { key: "Enter" }));
    return isDrawn;
  });
  assert.ok(covered, "a frame is drawn");
  await at(500);
  await goTo("4");
  await at(100);
  assert.equal((await shown(viewer)).drawn, false);
}, 120);

test("a viewing copy takes over without losing place, zoom, speed or the playing picture", async (editor) => {
  const film = path.join(editor.folder, "film.mp4");
  const made = await run("ffmpeg", [
    ...["-nostdin", "-v", "error", "-y", ...numberedPicture("25", 30)],
    ...["-c:v", "libx264", "-preset", "ultrafast", "-g", "50", "-bf", "0", film],
  ]);
  assert.ok(made.ok, made.output);
  boutFor(editor, "taken", "film.mp4");
  await open(editor, "taken");
  const viewer = editor.viewer();
  await until("the picture and its frames", async () => (await shown(viewer)).frame === 0);
  const before = (await shown(viewer)).address;
  await viewer.getByLabel("Speed").selectOption("0.25");
  await viewer.locator("input.time").fill("2");
  await viewer.locator("input.time").press("Enter");
  await viewer.locator(".stage").dblclick({ position: { x: 150, y: 90 } });
  await editor.page.keyboard.press("Space");
  await until("it plays", async () => (await shown(viewer)).frame > 52);
  const { zoom } = await shown(viewer);
  assert.match(zoom, /scale\(2\.5\)/);
  await editor.command("Boutline: Make a viewing copy of the recording");
  const seen = [];
  await until("the copy has taken over", async () => {
    const now = await shown(viewer);
    seen.push(now.frame);
    return now.address !== before && /^viewing copy/.test(now.state);
  });
  const after = await shown(viewer);
  assert.deepEqual(
    { zoom: after.zoom, rate: after.rate, paused: after.paused, pitchKept: after.pitchKept },
    { zoom, rate: 0.25, paused: false, pitchKept: true },
  );
  const jumps = seen.slice(1).map((frame, index) => frame - seen[index]);
  assert.ok(Math.min(...jumps) >= -1 && Math.max(...jumps) < 25, `frames seen: ${seen.join()}`);
  await viewer.locator(".stage").click();
  await editor.page.keyboard.press("Space");
  await until("it stands at the frame it names", async () => {
    const { paused, number, frame } = await shown(viewer);
    return paused && number === frame;
  });
}, 120);

const copies = mkdtempSync(path.join(os.tmpdir(), "boutline-copies-"));
try {
  await runTests({ settings: { "boutline.viewingCopy.folder": copies } });
} finally {
  rmSync(copies, { recursive: true, force: true });
}
