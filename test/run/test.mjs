// npm test: from a bare machine to the last line, `N passed, N failed`.
//   node test/run/test.mjs                      everything
//   node test/run/test.mjs typecheck unit ...   only these stages
// A stage that can't run, or runs nothing, counts as a failure.
import { mkdirSync, readFileSync, readdirSync, rmSync } from "node:fs";
import path from "node:path";
import { packageExtension } from "./package.mjs";
import { checkout, packagedExtension, results, screens } from "./places.mjs";
import { run } from "./programs.mjs";
import { main, setUp } from "./setup.mjs";
import { runSuiteInBrowser } from "./suite-browser.mjs";

const tool = (name, ...inside) => path.join(checkout, "node_modules", name, ...inside);

/** name -> the stages it can't do without, and its work, which answers with counts. */
const stages = {
  typecheck: {
    work: () =>
      each(
        [
          "src/tsconfig.pure.json",
          "src/tsconfig.node.json",
          "src/tsconfig.viewer.json",
          "test/tsconfig.json",
        ],
        (config) => program(config, tool("typescript", "bin", "tsc"), ["--project", config]),
      ),
  },
  lint: { work: () => program("eslint", tool("eslint", "bin", "eslint.js"), ["."]) },
  format: { work: () => program("prettier", tool("prettier", "bin", "prettier.cjs"), ["--check", "."]) },
  build: { work: () => program("esbuild", path.join(checkout, "esbuild.mjs"), []) },
  unit: { work: unitTests },
  package: { needs: ["build"], work: packaging },
  suite: { needs: ["build"], work: () => runSuiteInBrowser() },
  browser: { needs: ["package"], work: browserTests },
};

async function program(what, file, args, deadlineSeconds = 600) {
  const { ok, late, output } = await run(process.execPath, [file, ...args], {
    cwd: checkout,
    deadlineSeconds,
    quiet: true,
  });
  if (output.trim() !== "") console.log(output.trim());
  console.log(
    `  ${ok ? "passed" : "FAILED"}  ${what}${late ? ` (not done after ${deadlineSeconds} s)` : ""}`,
  );
  return ok ? { passed: 1, failed: 0 } : { passed: 0, failed: 1 };
}

async function unitTests() {
  const report = path.join(results, "unit.json");
  rmSync(report, { force: true });
  const vitest = [
    tool("vitest", "vitest.mjs"),
    "run",
    "--reporter=default",
    "--reporter=json",
    `--outputFile.json=${report}`,
  ];
  const { late, ok } = await run(process.execPath, vitest, { cwd: checkout, deadlineSeconds: 2700 });
  const { numTotalTests, numPassedTests, testResults } = JSON.parse(readFileSync(report, "utf8"));
  // A file that could not be loaded has no tests to count; a skipped test has not passed.
  const unloaded = testResults.filter(
    ({ status, assertionResults }) => status === "failed" && assertionResults.length === 0,
  );
  const failed = numTotalTests - numPassedTests + unloaded.length;
  return { passed: numPassedTests, failed: failed === 0 && (late || !ok) ? 1 : failed };
}

async function packaging() {
  const problems = await packageExtension(packagedExtension());
  for (const problem of problems) console.log(problem);
  console.log(`  ${problems.length === 0 ? "passed" : "FAILED"}  the package can be shipped`);
  return problems.length === 0 ? { passed: 1, failed: 0 } : { passed: 0, failed: problems.length };
}

function browserTests() {
  const folder = path.join(checkout, "test", "browser");
  const files = readdirSync(folder, { recursive: true }).filter((name) => /\.test\.m?[jt]s$/.test(name));
  return each(files.sort(), async (name) => {
    console.log(name);
    let output = "";
    const { ok } = await run(process.execPath, [path.join(folder, name)], {
      cwd: checkout,
      deadlineSeconds: 600,
      onOutput: (text) => {
        output += text;
        process.stdout.write(text);
      },
    });
    const [, passed = 0, failed = 0] = (/(\d+) passed, (\d+) failed\s*$/.exec(output) ?? []).map(Number);
    return { passed, failed: failed === 0 && (!ok || passed === 0) ? 1 : failed };
  });
}

async function each(list, work) {
  const counts = { passed: 0, failed: 0 };
  for (const one of list) {
    const { passed, failed } = await work(one);
    counts.passed += passed;
    counts.failed += failed;
  }
  return counts;
}

async function runStages(names) {
  const done = new Map();
  for (const name of names) {
    const { needs = [], work } = stages[name];
    const start = Date.now();
    console.log(`\n== ${name}`);
    const lacking = needs.find((need) => done.has(need) && done.get(need).failed > 0);
    let counts = { passed: 0, failed: 0 };
    if (lacking !== undefined) console.log(`  FAILED  not run, since ${lacking} failed`);
    else counts = await work().catch((error) => (console.log(error), { passed: 0, failed: 1 }));
    if (counts.passed + counts.failed === 0) {
      if (lacking === undefined) console.log(`  FAILED  nothing was run`);
      counts.failed = 1;
    }
    done.set(name, { ...counts, seconds: Math.round((Date.now() - start) / 1000) });
  }
  return done;
}

await main(import.meta.url, async () => {
  const names = process.argv.length > 2 ? process.argv.slice(2) : Object.keys(stages);
  const unknown = names.filter((name) => !(name in stages));
  if (unknown.length > 0)
    throw new Error(`No stage is called ${unknown.join(", ")}; there are ${Object.keys(stages).join(", ")}.`);
  const setUpProblem = await setUp().then(
    () => undefined,
    (error) => error,
  );
  if (setUpProblem !== undefined) {
    console.log(setUpProblem.message);
    console.log("0 passed, 1 failed");
    process.exit(1);
  }
  mkdirSync(screens, { recursive: true });
  const done = await runStages(names);
  console.log("");
  let passed = 0;
  let failed = 0;
  for (const [name, counts] of done) {
    passed += counts.passed;
    failed += counts.failed;
    console.log(`${name.padEnd(10)} ${counts.passed} passed, ${counts.failed} failed (${counts.seconds} s)`);
  }
  process.exitCode = failed === 0 ? 0 : 1;
  console.log(`${passed} passed, ${failed} failed`);
});
