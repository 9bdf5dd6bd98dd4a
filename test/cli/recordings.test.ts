import { spawn } from "node:child_process";
import { once } from "node:events";
import { chmodSync, copyFileSync, existsSync, mkdirSync, readdirSync, writeFileSync } from "node:fs";
import path from "node:path";
import { afterAll, beforeAll, describe, expect, test, vi } from "vitest";
import { textOf } from "../rules/bouts";
import { make, picture, plain, temporaryFolder, tone } from "../video/making";
import { buildCommand, type Command } from "./command";

const made = temporaryFolder();
let command: Command;
let first: string;
let second: string;

beforeAll(async () => {
  vi.stubEnv("XDG_CACHE_HOME", path.join(made, "cache"));
  command = await buildCommand();
  first = make(made, "first.mkv", ...picture("25", 1), ...tone(1), ...plain, "-c:a", "aac");
  second = make(made, "second.mkv", ...picture("50", 1), ...plain);
  copyFileSync(first, path.join(command.folder, "first.mkv"));
  copyFileSync(second, path.join(command.folder, "second.mkv"));
  writeFileSync(path.join(command.folder, "text.mp4"), "nothing to see");
  make(command.folder, "quick.mp4", ...picture("25", 1), ...plain);
});
afterAll(() => {
  vi.unstubAllEnvs();
  command.remove();
});

describe("boutline probe", () => {
  test("--json prints what is in a recording for other programs", async () => {
    const { status, out, errors } = await command.run("probe", "second.mkv", "--json");
    expect([status, errors]).toEqual([0, ""]);
    expect(JSON.parse(out)).toEqual({
      ...{ probe: 1, frames: 50, first: 0, last: 0.98, start: 0, duration: 1, codec: "h264" },
      ...{ width: 64, height: 36, rotation: 0, interlaced: false, rate: 50, variable: false },
      ...{ keyFrames: 5, longestGop: 10, audio: null, playable: "no" },
    });
  });

  test("prints it in lines for a person", async () => {
    const { status, out } = await command.run("probe", "quick.mp4");
    expect(status).toBe(0);
    expect(out).toMatch(/^picture +h264, 64 by 36$/m);
    expect(out).toMatch(/^sound +none$/m);
    expect(out).toMatch(/^frames +25, the first at 0\.000 s, the last at 0\.960 s$/m);
    expect(out).toMatch(/^key frames +3, at most 10 frames from one to the next$/m);
    expect(out).toMatch(/^plays in desktop VS Code +yes$/m);
  });

  test.each([
    ["a text called .mp4", ["text.mp4"], "can't be read as a recording"],
    ["no such file", ["nowhere.mp4"], "is not there"],
    ["no file", [], "name one recording"],
    ["two files", ["first.mkv", "second.mkv"], "name one recording"],
    ["an option that is none", ["first.mkv", "--fast"], "--fast"],
    ["an ffprobe that is not there", ["first.mkv", "--ffprobe", "no-such-program"], "Install ffmpeg"],
  ])("ends with 2 and prints nothing for %s", async (_, words, said) => {
    const { status, out, errors } = await command.run("probe", ...words, "--json");
    expect([status, out]).toEqual([2, ""]);
    expect(errors).toContain(said);
  });
});

describe("boutline prepare", () => {
  test("makes copies of recordings and of those a bout file names, and finds them the next time", async () => {
    const bout = JSON.parse(textOf({}, []).replace(/^\s*\/\/.*$/gm, "")) as Record<string, unknown>;
    bout["recordings"] = [{ file: "second.mkv" }, { file: "quick.mp4", offset: 3 }];
    command.write("a.bout.json", JSON.stringify(bout));
    const words = ["prepare", "first.mkv", "a.bout.json", "--dir", "copies", "--height", "20", "--json"];
    const { status, out, errors } = await command.run(...words);
    expect([
      status,
      errors
        .split("\n")
        .filter((line) => !line.includes("%"))
        .join(""),
    ]).toEqual([0, ""]);
    const lines = out
      .trimEnd()
      .split("\n")
      .map((line) => JSON.parse(line) as Record<string, unknown>);
    expect(lines).toMatchObject([
      { prepare: 1, file: "first.mkv", frames: 25, made: true },
      { prepare: 1, file: "second.mkv", frames: 50, made: true },
      { prepare: 1, file: "quick.mp4", copy: null, frames: 25, made: false },
    ]);
    const copies = lines.flatMap(({ copy }) => (typeof copy === "string" ? [copy] : []));
    expect(copies.map((copy) => path.dirname(copy))).toEqual(
      [1, 2].map(() => path.join(command.folder, "copies")),
    );
    expect(copies.every((copy) => existsSync(copy))).toBe(true);
    const probed = await command.run("probe", copies[0] ?? "", "--json");
    expect(JSON.parse(probed.out)).toMatchObject({ height: 20, audio: "mp3", playable: "yes" });

    const again = await command.run(...words);
    expect(
      again.out
        .trimEnd()
        .split("\n")
        .map((line) => (JSON.parse(line) as { made: boolean }).made),
    ).toEqual([false, false, false]);
  });

  test("says in words what became of each", async () => {
    const { status, out } = await command.run("prepare", "quick.mp4", "first.mkv", "--dir", "copies");
    expect(status).toBe(0);
    expect(out).toMatch(/^quick\.mp4: needs no copy$/m);
    expect(out).toMatch(/^first\.mkv: copied to .*-540\.mp4, 25 frames$/m);
  });

  test.each([
    ["a text called .mp4 among others", ["first.mkv", "text.mp4"], "can't be read as a recording"],
    ["a bout file that is none", ["text.json"], "text.json"],
    ["an absolute recording in a bout file", ["absolute.bout.json"], "not a relative path"],
    ["no file", [], "at least one"],
    ["three at a time", ["first.mkv", "--jobs", "3"], "--jobs takes a whole number from 1 to 2"],
    ["a height that is none", ["first.mkv", "--height", "tall"], "--height"],
  ])("ends with 2, prints nothing and makes nothing for %s", async (_, words, said) => {
    const bout = JSON.parse(textOf({}, []).replace(/^\s*\/\/.*$/gm, "")) as Record<string, unknown>;
    bout["recordings"] = [{ file: first }];
    command.write("absolute.bout.json", JSON.stringify(bout));
    command.write("text.json", "nothing");
    const { status, out, errors } = await command.run("prepare", ...words, "--dir", "unused", "--json");
    expect([status, out]).toEqual([2, ""]);
    expect(errors).toContain(said);
    expect(existsSync(path.join(command.folder, "unused"))).toBe(false);
  });

  test("Ctrl-C ends it at once and leaves nothing half-made", async () => {
    const slow = path.join(made, "slow-ffmpeg");
    const version = `printf 'ffmpeg version 5.1\\nlibavformat    59. 27.100 / 59. 27.100\\n'`;
    const begin = `for last; do :; done; echo begun > "\${last#file:}"; exec sleep 600`;
    writeFileSync(slow, `#!/bin/sh\ncase "$*" in -version) ${version};; *) ${begin};; esac\n`);
    chmodSync(slow, 0o755);
    const folder = path.join(made, "interrupted");
    mkdirSync(folder);
    const built = path.join(command.folder, "..", "dist", "cli.js");
    const child = spawn(
      process.execPath,
      [built, "prepare", first, second, "--dir", folder, "--ffmpeg", slow],
      {
        stdio: "ignore",
      },
    );
    await vi.waitFor(() => {
      expect(readdirSync(folder).filter((name) => name.endsWith(".part")).length).toBe(2);
    }, 60_000);
    child.kill("SIGINT");
    const [code, signal] = (await once(child, "exit")) as [number | null, string | null];
    expect([code, signal]).toEqual([null, "SIGINT"]);
    expect(readdirSync(folder)).toEqual([]);
  });
});
