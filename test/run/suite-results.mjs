// The in-editor suite writes a line for each test to a file (test/suite/run.ts); this follows it from outside the editor.
import { closeSync, existsSync, openSync, readFileSync } from "node:fs";

/** The variable that tells the suite where to write. */
export const resultsVariable = "BOUTLINE_SUITE_RESULTS";
/** The variable that limits the suite to tests whose name holds this text. */
export const onlyVariable = "BOUTLINE_SUITE_ONLY";

/** Prints each test as it ends. `counts()` can be asked at any time, also for a suite that never came to its end. */
export function followSuite(file) {
  closeSync(openSync(file, "w"));
  let printed = 0;
  const events = () =>
    existsSync(file)
      ? readFileSync(file, "utf8")
          .split("\n")
          .slice(0, -1)
          .map((line) => JSON.parse(line))
      : [];
  const print = () => {
    const all = events();
    for (const event of all.slice(printed)) {
      if (event.kind !== "ended") continue;
      console.log(`  ${event.passed ? "passed" : "FAILED"}  ${event.name} (${event.milliseconds} ms)`);
      if (!event.passed) console.log(event.problem.replace(/^/gm, "          "));
    }
    printed = all.length;
  };
  const timer = setInterval(print, 500).unref();
  return {
    counts() {
      clearInterval(timer);
      print();
      const all = events();
      const ended = all.filter(({ kind }) => kind === "ended");
      const passed = ended.filter((test) => test.passed).length;
      const finished = all.some(({ kind }) => kind === "finished");
      const last = all.at(-1);
      return {
        passed,
        failed: ended.length - passed,
        finished,
        /** The test that was running when the suite stopped answering. */
        unfinished: !finished && last?.kind === "started" ? last.name : undefined,
      };
    },
  };
}
