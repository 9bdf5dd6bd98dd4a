// Runs the in-editor suite (dist/suite.js) in the extension host of a workbench opened in headless Chromium.
//   node test/run/suite-browser.mjs [only tests whose name holds this text]
import { cpSync, existsSync, mkdirSync, writeFileSync } from "node:fs";
import path from "node:path";
import { setTimeout as pause } from "node:timers/promises";
import { launchChromium } from "./chromium.mjs";
import { checkout, results, screens } from "./places.mjs";
import { main, setUp } from "./setup.mjs";
import { followSuite, onlyVariable, resultsVariable } from "./suite-results.mjs";
import { startWorkbench } from "./workbench.mjs";

const deadlineSeconds = 600;

/** Returns how many tests passed and failed; a suite that doesn't come to its end counts as a failure. */
export async function runSuiteInBrowser({
  only = "",
  extension = checkout,
  suite = path.join(checkout, "dist", "suite.js"),
} = {}) {
  mkdirSync(screens, { recursive: true });
  const resultsFile = path.join(results, "suite.jsonl");
  const follow = followSuite(resultsFile);
  const workbench = await startWorkbench({
    testDriver: true,
    env: { [resultsVariable]: resultsFile, [onlyVariable]: only },
  });
  let browser;
  let verdict;
  try {
    browser = await launchChromium();
    const page = await browser.newPage({ viewport: { width: 1400, height: 900 } });
    const said = [];
    let exited;
    const exit = new Promise((resolve) => (exited = resolve));
    await page.exposeFunction("codeAutomationExit", (code) => exited(code));
    await page.exposeFunction("codeAutomationLog", (kind, values) =>
      said.push(`${kind}: ${values.join(" ")}`),
    );
    const url = workbench.addressOf(scratchFolder(workbench.folder), [
      ["extensionDevelopmentPath", `vscode-remote://${workbench.host}${extension}`],
      ["extensionTestsPath", `vscode-remote://${workbench.host}${suite}`],
      ["skipWelcome", "true"],
    ]);
    await page.goto(url, { timeout: 120_000 });
    verdict = await Promise.race([exit, pause(deadlineSeconds * 1000, "late", { ref: false })]);
    if (verdict !== 0) {
      await page.screenshot({ path: path.join(screens, "suite-failed.png") });
      writeFileSync(path.join(results, "suite.log"), said.join("\n"));
      console.log("  What the workbench said is in test-results/suite.log.");
    }
  } finally {
    await browser?.close();
    await workbench.stop();
  }
  return judge(follow.counts(), verdict);
}

function judge({ passed, failed, finished, unfinished }, verdict) {
  if (finished && verdict === (failed > 0 ? 1 : 0)) return { passed, failed };
  if (finished && passed + failed === 0) {
    console.log("  FAILED  No test of the in-editor suite was run.");
    return { passed, failed: 1 };
  }
  const where = unfinished === undefined ? "" : ` in "${unfinished}"`;
  console.log(`  FAILED  The in-editor suite did not come to its end${where}: ${String(verdict)}.`);
  return { passed, failed: failed + 1 };
}

/** A copy of the demo that the suite may change, opened as its folder. */
function scratchFolder(parent) {
  const folder = path.join(parent, "bouts");
  mkdirSync(folder);
  const demo = path.join(checkout, "media", "demo");
  if (existsSync(demo)) cpSync(demo, folder, { recursive: true });
  return folder;
}

await main(import.meta.url, async () => {
  await setUp();
  const { passed, failed } = await runSuiteInBrowser({ only: process.argv[2] ?? "" });
  console.log(`${passed} passed, ${failed} failed`);
  process.exitCode = failed === 0 && passed > 0 ? 0 : 1;
});
