// A seminar pack as a stranger meets it: made by the command from the demo, opened from the disk in Chromium, answered by
// keys alone. What the pack's bytes and names hold is searched for the answers.
import { execFileSync } from "node:child_process";
import assert from "node:assert/strict";
import {
  cpSync,
  existsSync,
  mkdirSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  rmSync,
  writeFileSync,
} from "node:fs";
import { tmpdir } from "node:os";
import path from "node:path";
import { pathToFileURL } from "node:url";
import { launchChromium } from "../run/chromium.mjs";
import { checkout, screens } from "../run/places.mjs";

const folder = mkdtempSync(path.join(tmpdir(), "boutline-seminar-"));
const command = (...words) =>
  execFileSync(process.execPath, [path.join(checkout, "dist", "cli.js"), ...words], {
    cwd: folder,
    encoding: "utf8",
    stdio: "pipe",
  });
const fails = (...words) => {
  try {
    command(...words);
  } catch ({ status, stderr }) {
    return { status, stderr };
  }
  return { status: 0, stderr: "" };
};
const keyOf = (name) => JSON.parse(readFileSync(path.join(folder, name, "key.json"), "utf8"));
const axe = readFileSync(path.join(checkout, "node_modules", "axe-core", "axe.min.js"), "utf8");
const answersFile = (name) => path.join(folder, `${name}.answers.json`);
mkdirSync(screens, { recursive: true });
for (const name of ["demo.bout.json", "demo.mp4", "demo.masks.json"])
  cpSync(path.join(checkout, "media", "demo", name), path.join(folder, name));

const browser = await launchChromium();

async function openPage(pack, options = {}) {
  const context = await browser.newContext({
    acceptDownloads: true,
    viewport: { width: 1100, height: 900 },
    ...options,
  });
  const page = await context.newPage();
  const problems = [];
  const requests = [];
  page.on("pageerror", (error) => problems.push(String(error)));
  page.on("console", (message) => message.type() === "error" && problems.push(message.text()));
  page.on("request", (request) => requests.push(request.url()));
  await page.goto(pathToFileURL(path.join(folder, pack, "pack", "index.html")).href);
  return { page, context, problems, requests };
}

async function begin(page, name, { monitor = false, role } = {}) {
  await page.getByLabel("Your name").fill(name);
  if (role !== undefined) {
    await page.getByLabel("one of the panel that sets the reference").check();
    await page.getByLabel("Your role on the panel").fill(role);
  }
  if (monitor) await page.getByLabel("At the monitor", { exact: false }).check();
  await page.getByLabel("Your name").press("Enter");
}

const heading = (page) => page.locator("h1").innerText();

/** One clip answered by keys alone; the referee's or the assistants' paper. */
async function answerByKeys(page, award = "KeyG") {
  const before = await heading(page);
  await page.keyboard.press("KeyP");
  await page.locator(".questions fieldset").first().waitFor({ timeout: 20_000 });
  if (await page.getByText("Who lifted from the seat?").isVisible()) {
    for (let question = 0; question < 4; question++) {
      await page.keyboard.press("KeyN");
      await page.keyboard.press("Enter");
    }
  } else {
    for (const key of [
      "Digit1",
      "Enter",
      "KeyG",
      "Enter",
      "KeyF",
      "KeyK",
      "KeyL",
      "Enter",
      "Digit4",
      "Enter",
      "Digit1",
      "Enter",
      award,
      "Enter",
      "KeyN",
      "Enter",
    ])
      await page.keyboard.press(key);
  }
  await page.keyboard.press("Digit3");
  await page.keyboard.press("Enter");
  await page.keyboard.press("Enter");
  await page.waitForFunction((old) => document.querySelector("h1")?.innerText !== old, before);
}

async function save(page, name) {
  const [download] = await Promise.all([
    page.waitForEvent("download"),
    page.getByRole("button", { name: "Save the answers to a file" }).press("Enter"),
  ]);
  assert.equal(download.suggestedFilename(), `${name}.answers.json`);
  await download.saveAs(answersFile(name));
}

async function violations(page) {
  // The page's own policy lets no script in; the test's comes through the driver.
  await page.evaluate(axe);
  const found = await page.evaluate(() => globalThis.axe.run(document));
  return found.violations.map(({ id, nodes }) => `${id}: ${nodes.map(({ html }) => html).join(" ")}`);
}

const tests = [
  [
    "one command makes a pack and its key, and refuses to take the place of one",
    () => {
      command(
        "seminar",
        "demo.bout.json",
        "--out",
        "one",
        "--clips",
        "3",
        "--repeats",
        "1",
        "--assistants",
        "1",
        "--seed",
        "a",
        "--answer-seconds",
        "60",
      );
      const key = keyOf("one");
      assert.equal(key.clips.length, 4);
      assert.equal(key.clips.filter(({ repeats }) => repeats !== null).length, 1);
      const before = readFileSync(path.join(folder, "one", "key.json"), "utf8");
      const again = fails("seminar", "demo.bout.json", "--out", "one");
      assert.equal(again.status, 2);
      assert.match(again.stderr, /is there already/);
      assert.equal(readFileSync(path.join(folder, "one", "key.json"), "utf8"), before);
      assert.deepEqual(readdirSync(path.join(folder, "one")).sort(), ["key.json", "pack"]);
    },
  ],
  [
    "nothing in the pack tells an answer: no byte, name, size or date",
    () => {
      const key = keyOf("one");
      const clips = readdirSync(path.join(folder, "one", "pack", "clips"));
      assert.deepEqual(clips, key.clips.map(({ id }) => `${id}.mp4`).sort());
      const page = readFileSync(path.join(folder, "one", "pack", "index.html"), "utf8");
      const told = JSON.parse(/<script type="application\/json" id="pack">(.*?)<\/script>/s.exec(page)[1]);
      assert.deepEqual(Object.keys(told).sort(), [
        "answerSeconds",
        "clips",
        "hideLamps",
        "order",
        "pack",
        "title",
        "ways",
      ]);
      for (const clip of told.clips)
        assert.deepEqual(Object.keys(clip).sort(), ["file", "id", "paper", "stretch"]);
      const secrets = [
        "demo",
        "Tarn",
        "Odrey",
        "tarn",
        "R. O.",
        key.seed.repeat(40),
        ...key.clips.flatMap(({ source }) => [source.hash, source.phrase.at]),
      ];
      for (const text of [
        page,
        ...clips.map((name) => readFileSync(path.join(folder, "one", "pack", "clips", name), "latin1")),
      ])
        for (const secret of secrets) assert.ok(!text.includes(secret), secret);
      const tags = clips.map((name) =>
        execFileSync(
          "ffprobe",
          [
            "-v",
            "error",
            "-show_entries",
            "format_tags:stream_tags",
            "-of",
            "json",
            path.join(folder, "one", "pack", "clips", name),
          ],
          { encoding: "utf8" },
        ),
      );
      assert.equal(new Set(tags).size, 1, "all clips say the same of themselves");
    },
  ],
  [
    "a stranger answers it as live by keys alone, closes the page in between, and saves a file the command reads",
    async () => {
      const { page, context, problems, requests } = await openPage("one");
      assert.deepEqual(await violations(page), []);
      await page.screenshot({ path: path.join(screens, "seminar-start.png"), fullPage: true });
      await begin(page, "Ada Quill");
      await answerByKeys(page);
      assert.match(await heading(page), /Clip 2 of 4/);
      const second = await page.locator("video").getAttribute("src");
      await page.keyboard.press("KeyP");
      await page.locator(".questions fieldset").first().waitFor({ timeout: 20_000 });
      await page.keyboard.press(second === null ? "" : "Digit2");
      await page.screenshot({ path: path.join(screens, "seminar-clip.png"), fullPage: true });
      assert.deepEqual(await violations(page), []);
      await page.reload();
      await begin(page, "ada  quill".replace("  ", " "));
      assert.match(await heading(page), /Clip 2 of 4/);
      assert.equal(await page.locator("video").getAttribute("src"), second, "the order is the reader's own");
      assert.equal(await page.getByRole("button", { name: "Play the clip" }).count(), 0, "once is once");
      assert.equal(await page.locator("fieldset input").nth(1).isChecked(), true, "what was said is kept");
      await page.keyboard.press("Escape");
      for (;;) {
        if (await page.getByText("All clips are answered.").isVisible()) break;
        if (await page.getByRole("button", { name: "Play the clip" }).isVisible()) await answerByKeys(page);
        else await page.getByRole("button", { name: "Next clip" }).press("Enter");
      }
      await page.screenshot({ path: path.join(screens, "seminar-finish.png"), fullPage: true });
      await save(page, "Ada Quill");
      await context.close();
      assert.deepEqual(problems, []);
      assert.ok(
        requests.every((url) => url.startsWith("file:") || url.startsWith("blob:")),
        String(requests),
      );
      const saved = JSON.parse(readFileSync(answersFile("Ada Quill"), "utf8"));
      assert.equal(saved.items.length, 4);
      assert.ok(saved.items.every(({ showings }) => showings === 1));
      assert.notEqual(saved.finished, null);
      const said = saved.items.find(({ answer }) => answer?.actions?.length === 3);
      assert.deepEqual(said.answer.actions, ["left attack", "right parry", "right riposte"]);
    },
  ],
  [
    "the answers of two readers become a page that says which calls they disagree on",
    async () => {
      const { page, context } = await openPage("one");
      await begin(page, "Eda Moss");
      for (let clip = 0; clip < 4; clip++) await answerByKeys(page, "KeyH");
      await save(page, "Eda Moss");
      await context.close();
      const files = ["Ada Quill.answers.json", "Eda Moss.answers.json"];
      const told = command("agree", "one/key.json", ...files, "--html", "one/class.html");
      assert.match(told, /Ada Quill/);
      const { agree, readers } = JSON.parse(command("agree", "one/key.json", ...files, "--json"));
      assert.equal(agree, 1);
      assert.equal(readers, 2);
      const shown = await browser.newPage({ viewport: { width: 1100, height: 900 } });
      await shown.goto(pathToFileURL(path.join(folder, "one", "class.html")).href);
      await shown.screenshot({ path: path.join(screens, "seminar-class.png"), fullPage: true });
      const broken = await shown.evaluate(() =>
        [...document.querySelectorAll("video")].map((video) => video.error?.message ?? null),
      );
      assert.ok(broken.length > 0 && broken.every((problem) => problem === null));
      await shown.close();
    },
  ],
  [
    "at the monitor a clip is shown four times at most, and its speed and frames are the reader's",
    async () => {
      const { page, context } = await openPage("one");
      await begin(page, "Bo Fen", { monitor: true });
      for (let showing = 1; showing <= 4; showing++) {
        await page.getByLabel("Speed").selectOption("1");
        await page.locator(".controls button").first().click();
        await page.locator(".controls button", { hasText: "Pause" }).waitFor();
        await page.getByText(`${4 - showing} showings left`).waitFor();
        await page.getByRole("button", { name: "Show it again" }).waitFor({ timeout: 20_000 });
      }
      assert.equal(await page.getByRole("button", { name: "Show it again" }).isDisabled(), true);
      await page.keyboard.press("KeyP");
      await page.waitForTimeout(200);
      assert.equal(await page.locator("video").evaluate((video) => video.paused), true);
      await page.screenshot({ path: path.join(screens, "seminar-monitor.png"), fullPage: true });
      await context.close();
    },
  ],
  [
    "when the time is up the next clip comes, and what was said until then is kept",
    async () => {
      command(
        "seminar",
        "demo.bout.json",
        "--out",
        "short",
        "--clips",
        "2",
        "--way",
        "live",
        "--answer-seconds",
        "3",
        "--reveal",
      );
      const { page, context } = await openPage("short");
      await page.getByText("shows what the reference holds after each answer").waitFor();
      await begin(page, "Cy Marl");
      await page.keyboard.press("KeyP");
      await page.locator(".questions fieldset").first().waitFor({ timeout: 20_000 });
      await page.keyboard.press("Digit1");
      await page.getByText("The time is up.", { exact: false }).waitFor({ timeout: 8000 });
      await page.getByText("The reference holds").waitFor();
      assert.deepEqual(await violations(page), []);
      await page.screenshot({ path: path.join(screens, "seminar-reveal.png"), fullPage: true });
      await page.getByRole("button", { name: "Next clip" }).press("Enter");
      assert.match(await heading(page), /Clip 2 of 2/);
      await context.close();
    },
  ],
  [
    "three roles answer the same page; where they differ the clip is for discussion",
    async () => {
      const roles = ["head referee", "observer", "delegate"];
      for (const [index, role] of roles.entries()) {
        const { page, context } = await openPage("one");
        await begin(page, `Person ${index}`, { role });
        // The last of the three differs about the first clip in the role's own order.
        for (let clip = 0; clip < 4; clip++) await answerByKeys(page, index === 2 ? "KeyH" : "KeyG");
        await save(page, role);
        await context.close();
      }
      const files = roles.map((role) => `${role}.answers.json`);
      assert.equal(fails("reference", "one/key.json", files[0], files[1]).status, 2);
      assert.match(
        fails("reference", "one/key.json", files[0], files[1], files[1]).stderr,
        /already answered/,
      );
      const text = readFileSync(path.join(folder, "demo.bout.json"), "utf8");
      const said = command("reference", "one/key.json", ...files, "--into", "demo.bout.json");
      const key = keyOf("one");
      assert.match(said, /for discussion/);
      for (const clip of key.clips) {
        assert.equal(clip.panel.length, 3);
        assert.equal(clip.standing, clip.paper === "assistants" ? "scored" : "for discussion");
      }
      const after = readFileSync(path.join(folder, "demo.bout.json"), "utf8");
      const changed = after.split("\n").filter((line) => !text.split("\n").includes(line));
      assert.ok(changed.length >= 1 && changed.every((line) => line.includes('"reference": [')));
      assert.equal(fails("check", "demo.bout.json").status <= 1, true);
    },
  ],
  [
    "the page is accessible and whole, dark and light, narrow and in French",
    async () => {
      for (const colorScheme of ["dark", "light"])
        for (const width of [1100, 550, 360]) {
          const { page, context } = await openPage("one", {
            colorScheme,
            locale: "fr-FR",
            viewport: { width, height: 800 },
          });
          await page.getByLabel("Votre nom").fill("Dara Vane");
          await page.getByLabel("Votre nom").press("Enter");
          await page.keyboard.press("KeyP");
          await page.locator(".questions fieldset").first().waitFor({ timeout: 20_000 });
          assert.deepEqual(await violations(page), []);
          const overflow = await page.evaluate(
            () => document.documentElement.scrollWidth - document.documentElement.clientWidth,
          );
          assert.ok(overflow <= 0, `${width}: ${overflow}`);
          await page.screenshot({
            path: path.join(screens, `seminar-${colorScheme}-${width}.png`),
            fullPage: true,
          });
          await context.close();
        }
    },
  ],
  [
    "bad input is refused with its reason, and nothing is left half-made",
    () => {
      rmSync(path.join(folder, "demo.masks.json"));
      for (const [words, reason] of [
        [["demo.bout.json", "--out", "x", "--tags", "nobody wrote this"], /no phrase is picked/],
        [["demo.bout.json", "--out", "x", "--clips", "400"], /only \d+ phrases/],
        [["demo.bout.json", "--out", "x", "--hide-lamps"], /"lamps" boxes/],
        [["none.bout.json", "--out", "x"], /no such file/],
        [["demo.bout.json"], /--out/],
      ]) {
        const { status, stderr } = fails("seminar", ...words);
        assert.equal(status, 2);
        assert.match(stderr, reason);
        assert.equal(existsSync(path.join(folder, "x")), false);
      }
      writeFileSync(path.join(folder, "demo.masks.json"), '{"masks":1,"shots":{"main":{"boxes":[{"x":2}]}}}');
      assert.match(
        fails("seminar", "demo.bout.json", "--out", "x").stderr,
        /masks\.json: shots\.main\.boxes/,
      );
    },
  ],
];

let passed = 0;
for (const [name, check] of tests) {
  const start = Date.now();
  try {
    await check();
    passed += 1;
    console.log(`  passed  ${name} (${Date.now() - start} ms)`);
  } catch (error) {
    console.log(
      `  FAILED  ${name} (${Date.now() - start} ms)\n${String(error?.stack ?? error).replace(/^/gm, "          ")}`,
    );
  }
}
await browser.close();
rmSync(folder, { recursive: true, force: true });
console.log(`${passed} passed, ${tests.length - passed} failed`);
process.exitCode = passed === tests.length ? 0 : 1;
