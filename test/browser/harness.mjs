// For checks that look at the packaged extension as its user does: a real workbench in Chromium, driven by Playwright.
// A check is a file test/browser/NAME.test.mjs that registers its tests and ends with `await runTests()`; run one alone
// with `node test/browser/NAME.test.mjs` after `npm run build && node test/run/test.mjs package`.
import { cpSync, existsSync, mkdirSync, readFileSync, writeFileSync } from "node:fs";
import path from "node:path";
import { launchChromium } from "../run/chromium.mjs";
import { checkout, packagedExtension, screens } from "../run/places.mjs";
import { startWorkbench } from "../run/workbench.mjs";

const registered = [];

/** The theme's name in settings -> the classes it gives the workbench and the pages in it. */
export const themes = {
  "Dark Modern": { workbench: "vs-dark", page: "vscode-dark" },
  "Light Modern": { workbench: "vs", page: "vscode-light" },
  "Default High Contrast": { workbench: "hc-black", page: "vscode-high-contrast" },
  "Default High Contrast Light": { workbench: "hc-light", page: "vscode-high-contrast-light" },
};

/** Registers a test; `check` gets the open editor, shared by the tests of a file, which run in order. */
export function test(name, check, deadlineSeconds = 60) {
  registered.push({ name, check, deadlineSeconds });
}

/** Runs the registered tests in one workbench; the last line printed is `N passed, N failed`. */
export async function runTests(options) {
  const editor = await openEditor(options);
  let passed = 0;
  try {
    for (const one of registered) {
      const start = Date.now();
      const problem = await problemOf(one, editor);
      if (problem === undefined) passed += 1;
      console.log(`  ${problem === undefined ? "passed" : "FAILED"}  ${one.name} (${Date.now() - start} ms)`);
      if (problem === undefined) continue;
      console.log(problem.replace(/^/gm, "          "));
      await editor
        .screenshot(`FAILED ${one.name}`.replace(/[^\p{L}\p{N}]+/gu, "-").slice(0, 100))
        .catch(() => undefined);
    }
  } finally {
    await editor.close();
  }
  const failed = registered.length - passed;
  process.exitCode = failed === 0 && passed > 0 ? 0 : 1;
  console.log(`${passed} passed, ${failed} failed`);
}

/**
 * Opens a workbench with the packaged extension in it.
 *
 * @param {object} [options]
 * @param {string} [options.demo] folder whose copy is opened; without it the demo that ships
 * @param {string[]} [options.files] files in it to open at once, relative to it
 * @param {keyof typeof themes} [options.theme]
 * @param {Record<string, unknown>} [options.settings] user settings
 * @param {Record<string, string>} [options.env] variables the extension host sees
 * @param {{ width: number, height: number }} [options.viewport]
 * @param {string[]} [options.extensions] more packaged extensions
 * @param {boolean} [options.trust] VS Code asks whether the folder is trusted
 */
export async function openEditor({
  demo = path.join(checkout, "media", "demo"),
  files = [],
  theme = "Dark Modern",
  settings = {},
  env = {},
  viewport = { width: 1400, height: 900 },
  extensions = [],
  trust = false,
} = {}) {
  const extension = packagedExtension();
  if (!existsSync(extension)) throw new Error("There is no package to test: run npm run test:browser.");
  mkdirSync(screens, { recursive: true });
  const workbench = await startWorkbench({
    extensions: [extension, ...extensions],
    settings: { "workbench.colorTheme": theme, ...settings },
    trust,
    env,
  });
  const folder = path.join(workbench.folder, "bouts");
  mkdirSync(folder);
  if (existsSync(demo)) cpSync(demo, folder, { recursive: true });
  const browser = await launchChromium();
  const page = await browser.newPage({ viewport });
  page.setDefaultTimeout(30_000);
  page.setDefaultNavigationTimeout(120_000);
  await page.goto(workbench.addressOf(folder));
  await page.locator(".monaco-workbench .explorer-folders-view").waitFor({ timeout: 120_000 });
  await workbench.ready(120);
  if (files.length > 0) await workbench.openFiles(files.map((file) => path.join(folder, file)));

  const viewer = (index = 0) =>
    page.locator("iframe.webview:visible").nth(index).contentFrame().frameLocator("#active-frame");
  return {
    page,
    /** The opened folder, on this machine: tests may read and write the files in it. */
    folder,
    workbench,
    /** The document of a view that shows a page of ours, the n-th visible one. */
    viewer,
    open: (file) => openFile(page, file),
    command: (title) => runCommand(page, title),
    async theme(name) {
      changeSettings(folder, { "workbench.colorTheme": name });
      await page.locator(`.monaco-workbench.${themes[name].workbench}`).waitFor();
      const pages = await page.locator("iframe.webview:visible").count();
      for (let index = 0; index < pages; index += 1) {
        await viewer(index).locator(`body.${themes[name].page}`).waitFor();
      }
    },
    settings: (changes) => changeSettings(folder, changes),
    /** Loads the window again once VS Code has kept the words in what it knows of the window: it writes that every few
     * seconds, and what is not written yet is lost. */
    async reload(words) {
      const deadline = Date.now() + 60_000;
      while (!(await page.evaluate(isKept, words))) {
        if (Date.now() > deadline) throw new Error(`VS Code does not keep "${words}" for the next time.`);
        await page.waitForTimeout(250);
      }
      await page.reload();
    },
    /** Writes test-results/screens/NAME.png. */
    screenshot: (name) => page.screenshot({ path: path.join(screens, `${name}.png`) }),
    async close() {
      await browser.close();
      await workbench.stop();
    },
  };
}

/** In the page: whether the words stand in what the workbench keeps of this window in the browser. */
async function isKept(words) {
  const answer = (request) =>
    new Promise((resolve, reject) => {
      request.onsuccess = () => resolve(request.result);
      request.onerror = () => reject(request.error);
    });
  for (const { name } of await indexedDB.databases()) {
    if (!name.startsWith("vscode-web-state-db")) continue;
    const database = await answer(indexedDB.open(name));
    try {
      for (const store of database.objectStoreNames) {
        const values = await answer(database.transaction(store).objectStore(store).getAll());
        if (values.some((value) => String(value).includes(words))) return true;
      }
    } finally {
      database.close();
    }
  }
  return false;
}

/** In the folder's settings: the server doesn't notice when its user settings change on disk, but it watches the folder. */
function changeSettings(folder, changes) {
  const file = path.join(folder, ".vscode", "settings.json");
  mkdirSync(path.dirname(file), { recursive: true });
  const now = existsSync(file) ? JSON.parse(readFileSync(file, "utf8")) : {};
  writeFileSync(file, JSON.stringify({ ...now, ...changes }, undefined, 2));
}

/** Runs a command by the title the palette shows, category included: "Boutline: Open the demo". */
async function runCommand(page, title) {
  await page.keyboard.press("F1");
  await choose(page, `>${title}`, title);
}

async function openFile(page, file) {
  await page.keyboard.press("Control+p");
  await choose(page, file, path.basename(file));
  await page.locator(`.tab.active[data-resource-name="${path.basename(file)}"]`).waitFor();
}

/** Types into the open palette and takes its first answer, which must be the one wanted. */
async function choose(page, text, wanted) {
  const palette = page.locator(".quick-input-widget:visible");
  await palette.locator("input[type=text]").fill(text);
  const rows = palette.locator(".quick-input-list .monaco-list-row");
  const found = rows.filter({ has: page.getByText(wanted, { exact: true }) }).first();
  try {
    await found.waitFor({ timeout: 10_000 });
  } catch {
    const offered = await rows.evaluateAll((all) => all.map((row) => row.getAttribute("aria-label")));
    await page.keyboard.press("Escape");
    throw new Error(`The palette has no "${wanted}" for "${text}"; it offers: ${offered.join(" | ")}`);
  }
  await found.click();
}

async function problemOf({ check, deadlineSeconds }, editor) {
  let timer;
  const late = new Promise((resolve) => {
    timer = setTimeout(resolve, deadlineSeconds * 1000, `Not done after ${deadlineSeconds} s.`);
  });
  const done = (async () => check(editor))().then(
    () => undefined,
    (error) => error?.stack ?? String(error),
  );
  const problem = await Promise.race([done, late]);
  clearTimeout(timer);
  return problem;
}
