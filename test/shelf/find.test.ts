import { execFileSync } from "node:child_process";
import {
  appendFileSync,
  chmodSync,
  mkdirSync,
  mkdtempSync,
  realpathSync,
  rmSync,
  symlinkSync,
  writeFileSync,
} from "node:fs";
import { tmpdir } from "node:os";
import path from "node:path";
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import { findBoutFiles, lookThrough, type BoutFile } from "../../src/shelf/find";

let folder: string;

beforeEach(() => {
  folder = realpathSync(mkdtempSync(path.join(tmpdir(), "boutline-find-")));
});
afterEach(() => rmSync(folder, { recursive: true, force: true }));

const at = (...names: string[]) => path.join(folder, ...names);
function file(...names: string[]): string {
  mkdirSync(path.dirname(at(...names)), { recursive: true });
  writeFileSync(at(...names), "{}");
  return at(...names);
}
async function found(...folders: string[]) {
  const { files, leftOut } = await findBoutFiles(folders.length === 0 ? [folder] : folders);
  return { files: files.map(({ file }) => path.relative(folder, file)), leftOut };
}

describe("finding bout files", () => {
  it("finds them in folders within folders, in the order of their paths, and nothing else", async () => {
    file("b", "deep", "er", "two.bout.json");
    file("b", "one.bout.json");
    file("a.bout.json");
    file("notes.json");
    file("one.bout.json.part");
    expect((await found()).files).toEqual(["a.bout.json", "b/deep/er/two.bout.json", "b/one.bout.json"]);
  });

  it("tells size and time of change", async () => {
    file("a.bout.json");
    const [only] = (await findBoutFiles([folder])).files;
    expect(only?.size).toBe(2);
    expect(Math.abs((only?.modified ?? 0) - Date.now())).toBeLessThan(60_000);
  });

  it("passes over node_modules and folders with a dot in front", async () => {
    file("node_modules", "x", "a.bout.json");
    file(".git", "a.bout.json");
    file("season", ".old", "a.bout.json");
    expect(await found()).toEqual({ files: [], leftOut: [] });
  });

  it("takes a file twice named, or in a folder named twice, once", async () => {
    const one = file("a", "one.bout.json");
    expect((await found(folder, at("a"), one, folder)).files).toEqual(["a/one.bout.json"]);
  });

  it("ends where links lead in a circle, and finds each file once", async () => {
    file("a", "one.bout.json");
    symlinkSync(folder, at("a", "up"));
    symlinkSync(at("a"), at("again"));
    symlinkSync(at("a", "one.bout.json"), at("linked.bout.json"));
    symlinkSync(at("self.bout.json"), at("self.bout.json"));
    const { files, leftOut } = await found();
    expect(files).toEqual(["a/one.bout.json"]);
    expect(leftOut).toEqual([
      { file: at("self.bout.json"), message: "this link leads nowhere: this link leads in a circle" },
    ]);
  });

  it("does not follow a link out of the folders, and says where it leads", async () => {
    file("outside", "one.bout.json");
    file("inside", "two.bout.json");
    symlinkSync(at("outside"), at("inside", "out"));
    symlinkSync(at("outside", "one.bout.json"), at("inside", "three.bout.json"));
    const { files, leftOut } = await found(at("inside"));
    expect(files).toEqual(["inside/two.bout.json"]);
    expect(leftOut.map((one) => one.file)).toEqual([at("inside", "out"), at("inside", "three.bout.json")]);
    expect(leftOut[0]?.message).toContain(at("outside"));
    // Named as well, it is looked through, and the link is none out any more.
    expect(await found(at("inside"), at("outside"))).toEqual({
      files: ["inside/two.bout.json", "outside/one.bout.json"],
      leftOut: [],
    });
  });

  it("follows a link that was named itself", async () => {
    file("real", "one.bout.json");
    symlinkSync(at("real"), at("link"));
    expect((await found(at("link"))).files).toEqual(["real/one.bout.json"]);
  });

  it("reports a folder that is not there, and reads the others", async () => {
    file("a", "one.bout.json");
    expect(await found(at("gone"), at("a"))).toEqual({
      files: ["a/one.bout.json"],
      leftOut: [{ file: at("gone"), message: "there is no such file or folder" }],
    });
  });

  // An administrator may read everything, and Windows knows no such permission.
  if (process.getuid?.() !== 0 && process.platform !== "win32")
    it("reports a folder that may not be read", async () => {
      file("shut", "one.bout.json");
      chmodSync(at("shut"), 0);
      const { leftOut } = await found();
      chmodSync(at("shut"), 0o755);
      expect(leftOut).toEqual([{ file: at("shut"), message: "this may not be read; check its permissions" }]);
    });

  it.skipIf(process.platform === "win32")("reports a pipe under the name of a bout file", async () => {
    execFileSync("mkfifo", [at("pipe.bout.json")]);
    expect((await found()).leftOut).toEqual([
      { file: at("pipe.bout.json"), message: "this is not a regular file" },
    ]);
  });
});

describe("looking through folders of which much is known", () => {
  /** What is told of the folder where the first look found `known` of it. */
  async function told(known: readonly BoutFile[]) {
    const [same, files]: [BoutFile[], string[]] = [[], []];
    await lookThrough([folder], new Map([[folder, known]]), (found) => {
      same.push(...found.same);
      files.push(...found.files.map(({ file }) => path.basename(file)));
    });
    return { same, files };
  }

  it("hands back what is known of files that are the same, and tells the others", async () => {
    const names = ["a", "b", "c", "d", "e", "f"].map((name) => `${name}.bout.json`);
    for (const name of names) file(name);
    const [a, b, c, d, e, f] = (await findBoutFiles([folder])).files as Six;
    expect(await told([a, b, c, d, e, f])).toEqual({ same: [a, b, c, d, e, f], files: [] });
    appendFileSync(b.file, " ");
    rmSync(c.file);
    const { same, files } = await told([a, b, c, e, f]);
    expect(files).toEqual(["b.bout.json", "d.bout.json"]);
    expect(same).toHaveLength(3);
    for (const [place, one] of [a, e, f].entries()) expect(same[place]).toBe(one);
  });
  type Six = [BoutFile, BoutFile, BoutFile, BoutFile, BoutFile, BoutFile];

  it("tells of a file with another time of change, or known by the end of its name only, that it is another", async () => {
    file("long-a.bout.json");
    const [only] = (await findBoutFiles([folder])).files;
    if (only === undefined) throw new Error("nothing found");
    expect((await told([{ ...only, modified: only.modified + 1 }])).files).toEqual(["long-a.bout.json"]);
    expect((await told([{ ...only, file: at("a.bout.json") }])).files).toEqual(["long-a.bout.json"]);
    expect((await told([{ ...only, file: at("x", "long-a.bout.json") }])).files).toEqual([
      "long-a.bout.json",
    ]);
  });
});
