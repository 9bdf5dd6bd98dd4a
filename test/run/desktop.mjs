// Runs the in-editor suite in desktop VS Code: the oldest version the manifest promises, and the newest.
//   node test/run/desktop.mjs [only tests whose name holds this text]
import { cpSync, existsSync, mkdirSync, mkdtempSync } from "node:fs";
import os from "node:os";
import path from "node:path";
import { checkout, manifest, results } from "./places.mjs";
import { removeAtEnd } from "./programs.mjs";
import { SetupProblem, main, setUpPackages } from "./setup.mjs";
import { followSuite, onlyVariable, resultsVariable } from "./suite-results.mjs";

async function runOn(version, only) {
  const { downloadAndUnzipVSCode, runTests } = await import("@vscode/test-electron");
  console.log(`VS Code ${version}`);
  let executable;
  try {
    executable = await downloadAndUnzipVSCode({ version, cachePath: path.join(checkout, ".vscode-test") });
  } catch (error) {
    throw new SetupProblem(
      `Desktop VS Code ${version} could not be downloaded (${error.message}).\n` +
        "Run this where update.code.visualstudio.com can be reached; elsewhere `npm run test:suite` runs the same suite in a browser workbench.",
    );
  }
  const folder = removeAtEnd(mkdtempSync(path.join(os.tmpdir(), "boutline-")));
  const bouts = path.join(folder, "bouts");
  mkdirSync(bouts);
  const demo = path.join(checkout, "media", "demo");
  if (existsSync(demo)) cpSync(demo, bouts, { recursive: true });
  mkdirSync(results, { recursive: true });
  const resultsFile = path.join(results, `suite-${version}.jsonl`);
  const follow = followSuite(resultsFile);
  const verdict = await runTests({
    vscodeExecutablePath: executable,
    extensionDevelopmentPath: checkout,
    extensionTestsPath: path.join(checkout, "dist", "suite.js"),
    extensionTestsEnv: { [resultsVariable]: resultsFile, [onlyVariable]: only },
    launchArgs: [
      bouts,
      "--disable-extensions",
      "--disable-workspace-trust",
      "--skip-welcome",
      `--user-data-dir=${path.join(folder, "data")}`,
      ...(process.getuid?.() === 0 ? ["--no-sandbox"] : []),
    ],
  }).catch((error) => error);
  const { passed, failed, finished } = follow.counts();
  if (finished && (failed > 0 || verdict === 0)) return { passed, failed };
  console.log(`  FAILED  The in-editor suite did not come to its end: ${String(verdict)}`);
  return { passed, failed: failed + 1 };
}

await main(import.meta.url, async () => {
  await setUpPackages();
  const oldest = manifest().engines.vscode.replace(/^[^\d]*/, "");
  let passed = 0;
  let failed = 0;
  for (const version of [oldest, "stable"]) {
    const counts = await runOn(version, process.argv[2] ?? "");
    passed += counts.passed;
    failed += counts.failed;
  }
  console.log(`${passed} passed, ${failed} failed`);
  process.exitCode = failed === 0 && passed > 0 ? 0 : 1;
});
