// The in-editor suite: the same dist/suite.js runs in the extension host of a desktop VS Code and of a browser workbench.
// Every test/suite/*.suite.ts is part of it (esbuild.mjs finds them) and registers its tests with `test`.
import { appendFileSync } from "node:fs";

type Check = () => void | Promise<void>;

interface Registered {
  readonly name: string;
  readonly check: Check;
  readonly deadlineSeconds: number;
}

type Event =
  | { kind: "started"; name: string }
  | { kind: "ended"; name: string; passed: boolean; milliseconds: number; problem: string }
  | { kind: "finished"; passed: number; failed: number };

const registered: Registered[] = [];

/** Registers a test. Its name is a sentence; it fails when `check` throws, rejects or outlasts the deadline. */
export function test(name: string, check: Check, deadlineSeconds = 30): void {
  if (registered.some((other) => other.name === name)) throw new Error(`Two tests are called "${name}".`);
  registered.push({ name, check, deadlineSeconds });
}

/** Entry that VS Code calls: runs the tests one after another and rejects unless all passed. */
export async function run(): Promise<void> {
  const only = process.env["BOUTLINE_SUITE_ONLY"] ?? "";
  let passed = 0;
  let failed = 0;
  for (const one of registered.filter(({ name }) => name.includes(only))) {
    report({ kind: "started", name: one.name });
    const start = Date.now();
    const problem = await problemOf(one);
    if (problem === undefined) passed += 1;
    else failed += 1;
    report({
      kind: "ended",
      name: one.name,
      passed: problem === undefined,
      milliseconds: Date.now() - start,
      problem: problem ?? "",
    });
  }
  report({ kind: "finished", passed, failed });
  if (failed > 0 || passed === 0) throw new Error(`${passed} passed, ${failed} failed`);
}

async function problemOf({ check, deadlineSeconds }: Registered): Promise<string | undefined> {
  let timer: NodeJS.Timeout | undefined;
  const late = new Promise<string>((resolve) => {
    timer = setTimeout(() => resolve(`Not done after ${deadlineSeconds} s.`), deadlineSeconds * 1000);
  });
  const done = (async () => {
    try {
      await check();
      return undefined;
    } catch (error) {
      return error instanceof Error ? (error.stack ?? error.message) : String(error);
    }
  })();
  const problem = await Promise.race([done, late]);
  clearTimeout(timer);
  return problem;
}

/** The results file tells a runner outside the editor even about a suite that hangs; the console, a person looking on. */
function report(event: Event): void {
  const file = process.env["BOUTLINE_SUITE_RESULTS"];
  if (file !== undefined && file !== "") appendFileSync(file, `${JSON.stringify(event)}\n`);
  if (event.kind === "ended")
    console.log(`${event.passed ? "passed" : "FAILED"}  ${event.name} ${event.problem}`);
}
