// Packages what esbuild.mjs has built into a .vsix.
//   node test/run/package.mjs [file]
import { mkdirSync, rmSync, statSync } from "node:fs";
import path from "node:path";
import { checkout, manifest } from "./places.mjs";
import { run } from "./programs.mjs";
import { main } from "./setup.mjs";

const largestMegabytes = 25;

/** Writes the .vsix; the answer lists what is wrong with it, nothing when it can be shipped. */
export async function packageExtension(file) {
  const vsce = [path.join(checkout, "node_modules", "@vscode", "vsce", "vsce")];
  mkdirSync(path.dirname(file), { recursive: true });
  rmSync(file, { force: true });
  const { ok, output } = await run(
    process.execPath,
    [
      ...vsce,
      "package",
      "--no-dependencies",
      "--allow-missing-repository",
      "--no-rewrite-relative-links",
      "--out",
      file,
    ],
    { cwd: checkout, quiet: true, deadlineSeconds: 180 },
  );
  if (!ok) return [output.trim()];
  const listed = await run(process.execPath, [...vsce, "ls", "--no-dependencies"], {
    cwd: checkout,
    quiet: true,
  });
  const content = listed.output.split("\n").map((line) => line.trim());
  const megabytes = statSync(file).size / 1024 / 1024;
  console.log(`${path.basename(file)}: ${megabytes.toFixed(2)} MB`);
  const problems = [];
  const wanted = manifest().main.replace(/^\.\//, "");
  if (!content.includes(wanted)) problems.push(`It lacks ${wanted}.`);
  if (megabytes > largestMegabytes) problems.push(`It has more than ${largestMegabytes} MB.`);
  for (const inside of content.filter((name) =>
    /\.node$|^(src|test|node_modules)\/|^dist\/suite\.js$/.test(name),
  )) {
    problems.push(`It must not hold ${inside}.`);
  }
  return problems;
}

await main(import.meta.url, async () => {
  const file = process.argv[2] ?? path.join(checkout, `boutline-${manifest().version}.vsix`);
  const problems = await packageExtension(path.resolve(file));
  for (const problem of problems) console.error(problem);
  process.exitCode = problems.length === 0 ? 0 : 1;
});
