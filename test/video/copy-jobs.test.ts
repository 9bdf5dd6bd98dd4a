import { spawn } from "node:child_process";
import { once } from "node:events";
import {
  copyFileSync,
  existsSync,
  readdirSync,
  readFileSync,
  renameSync,
  statSync,
  utimesSync,
  writeFileSync,
} from "node:fs";
import path from "node:path";
import { setTimeout as pause } from "node:timers/promises";
import { describe, expect, it, vi } from "vitest";
import { Copies, type CopiesOptions, type CopyProgress } from "../../src/video/index";
import { progressOf } from "../../src/video/copy-progress";
import { make, picture, plain, script, temporaryFolder } from "./making";

const folder = temporaryFolder();
const cacheDir = path.join(folder, "tables");
const short = make(folder, "short.mp4", ...picture("25", 1), ...plain);
let places = 0;

/** Copies in a folder of their own, unless said. */
function copiesOf(options: Partial<CopiesOptions> = {}): { readonly copies: Copies; readonly place: string } {
  places += 1;
  const place = options.folder ?? path.join(folder, `copies-${places}`);
  return { copies: new Copies({ folder: place, cacheDir, ...options }), place };
}

/** Another recording each time. */
function another(seconds = 0.4): string {
  places += 1;
  return make(
    folder,
    `another-${places}.mp4`,
    ...picture("25", seconds),
    "-metadata",
    `title=${places}`,
    ...plain,
  );
}

/** A program in ffmpeg's place that counts its starts in a file and works `before` it goes on as ffmpeg, or instead. */
function counted(name: string, before: string, instead = 'exec ffmpeg "$@"') {
  const note = path.join(folder, `${name}.starts`);
  writeFileSync(note, "");
  const version = `printf 'ffmpeg version 5.1\\nlibavformat    59. 27.100 / 59. 27.100\\n'`;
  const text = `case "$*" in -version) ${version};; *) echo $$ >> '${note}'; ${before} ${instead};; esac`;
  return {
    ffmpegPath: script(folder, name, text),
    starts: () =>
      readFileSync(note, "utf8")
        .split("\n")
        .filter((line) => line !== "")
        .map(Number),
  };
}

function runs(id: number): boolean {
  try {
    process.kill(id, 0);
    return true;
  } catch {
    return false;
  }
}

const lingering = "exec sleep 600";

it("A copy is made once, and found again after the recording was moved", async () => {
  const { copies } = copiesOf();
  const file = another();
  const first = await copies.make(file, "whole");
  if (!first.ok) throw new Error(first.problem.message);
  expect(first.value.made).toBe(true);
  const moved = path.join(folder, "moved away.mp4");
  renameSync(file, moved);
  expect(await copies.find(moved, "whole")).toEqual({ ...first.value, made: false });
  expect(await copies.make(moved, "whole")).toEqual({ ok: true, value: { ...first.value, made: false } });
});

it("Another recording of the same name and size has a copy of its own", async () => {
  const { copies } = copiesOf();
  const file = path.join(folder, "same-name.mp4");
  copyFileSync(short, file);
  const first = await copies.make(file, "whole");
  const bytes = readFileSync(file);
  bytes[bytes.length - 1] = (bytes.at(-1) ?? 0) ^ 1;
  writeFileSync(file, bytes);
  expect(await copies.find(file, "whole")).toBeUndefined();
  expect(first.ok).toBe(true);
});

it("A copy that was cut short is made anew", async () => {
  const { copies } = copiesOf();
  const first = await copies.make(short, "whole");
  if (!first.ok) throw new Error(first.problem.message);
  writeFileSync(first.value.file, readFileSync(first.value.file).subarray(0, 1000));
  const again = await copies.make(short, "whole");
  expect(again).toMatchObject({ ok: true, value: { made: true, missing: 0 } });
});

it("Asked for by several at once it is made once; one who gives up does not stop it for the others", async () => {
  const { ffmpegPath, starts } = counted("several", "sleep 0.5;");
  const { copies } = copiesOf({ ffmpegPath });
  const stop = new AbortController();
  const given = copies.make(short, "whole", { signal: stop.signal });
  const others = [copies.make(short, "whole"), copies.make(short, "whole")];
  await vi.waitFor(() => expect(starts().length).toBe(1), 60_000);
  stop.abort();
  expect(await given).toMatchObject({ problem: { rule: "cancelled" } });
  expect((await Promise.all(others)).map(({ ok }) => ok)).toEqual([true, true]);
  expect(starts().length).toBe(1);
});

it("Two are made at a time, the third waits", async () => {
  const { ffmpegPath, starts } = counted("two", "", lingering);
  const { copies, place } = copiesOf({ ffmpegPath });
  const states = new Map<number, CopyProgress["state"]>();
  const results = [another(), another(), another()].map((file, index) =>
    copies.make(file, "whole", { progress: ({ state }) => states.set(index, state) }),
  );
  await vi.waitFor(() => expect(starts().length).toBe(2), 60_000);
  await pause(1000);
  expect(starts().length).toBe(2);
  expect([...states.values()]).toContain("waiting");
  await copies.end();
  for (const result of await Promise.all(results))
    expect(result).toMatchObject({ problem: { rule: "cancelled" } });
  expect(starts().filter(runs)).toEqual([]);
  expect(readdirSync(place)).toEqual([]);
  expect(await copies.make(short, "whole")).toMatchObject({ problem: { rule: "cancelled" } });
});

it.each([
  ["at once", ""],
  ["and ffmpeg does not listen", "trap '' TERM;"],
])("Given up by all who asked, its process ends and nothing half-made is left: %s", async (name, before) => {
  const { ffmpegPath, starts } = counted(
    `given-up-${name.replaceAll(" ", "-")}`,
    // It begins to write, as ffmpeg would; the last word is the file.
    `${before} for last; do :; done; echo begun > "\${last#file:}";`,
    before === "" ? lingering : "while :; do sleep 0.1; done",
  );
  const { copies, place } = copiesOf({ ffmpegPath });
  const stop = new AbortController();
  const result = copies.make(short, "whole", { signal: stop.signal });
  await vi.waitFor(
    () => expect(readdirSync(place).some((name) => name.endsWith(".part"))).toBe(true),
    60_000,
  );
  stop.abort();
  expect(await result).toMatchObject({ problem: { rule: "cancelled" } });
  expect(starts().filter(runs)).toEqual([]);
  expect(readdirSync(place)).toEqual([]);
  // And it can be asked for again.
  expect(await new Copies({ folder: place, cacheDir }).make(short, "whole")).toMatchObject({ ok: true });
});

it("ffmpeg killed from outside is said so, and nothing half-made is left", async () => {
  const { ffmpegPath, starts } = counted("killed", "", lingering);
  const { copies, place } = copiesOf({ ffmpegPath });
  const result = copies.make(short, "whole");
  await vi.waitFor(() => expect(starts().length).toBe(1), 60_000);
  process.kill(starts()[0] ?? 0, "SIGKILL");
  const ended = await result;
  expect(ended).toMatchObject({ problem: { rule: "copy-failed" } });
  expect(ended.ok ? "" : ended.problem.message).toContain("ended from outside");
  expect(readdirSync(place)).toEqual([]);
});

it("An ffmpeg without the encoder is said so, with what to do", async () => {
  const { ffmpegPath } = counted("lacking", "", `echo "Unknown encoder 'libx264'" >&2; exit 1`);
  const ended = await copiesOf({ ffmpegPath }).copies.make(short, "whole");
  expect(ended).toMatchObject({ problem: { rule: "encoder-missing" } });
  expect(ended.ok ? "" : ended.problem.message).toMatch(/libx264.*Install/);
});

it("A copy whose frames come at other times is not kept", async () => {
  // A tenth of a second is added to the clock of each frame from the tenth on.
  const wrong = `for word; do shift; case "$word" in setpts=*) word="setpts=PTS+gte(N\\,10)*0.1/TB,scale=64:36";; esac; set -- "$@" "$word"; done;`;
  const { ffmpegPath } = counted("wrong-times", wrong);
  const { copies, place } = copiesOf({ ffmpegPath });
  const ended = await copies.make(short, "whole");
  expect(ended).toMatchObject({ problem: { rule: "copy-differs" } });
  expect(readdirSync(place)).toEqual([]);
});

it("Two that share a folder make each copy once", async () => {
  const { ffmpegPath, starts } = counted("shared", "sleep 1;");
  const { copies, place } = copiesOf({ ffmpegPath });
  const { copies: other } = copiesOf({
    ffmpegPath,
    folder: place,
    cacheDir: path.join(folder, "others-tables"),
  });
  const states: CopyProgress["state"][] = [];
  const first = copies.make(short, "whole");
  await vi.waitFor(() => expect(starts().length).toBe(1), 60_000);
  const second = other.make(short, "whole", { progress: ({ state }) => states.push(state) });
  expect(await first).toMatchObject({ value: { made: true } });
  expect(await second).toMatchObject({ value: { made: false } });
  expect(states).toContain("elsewhere");
  expect(starts().length).toBe(1);
  expect(readdirSync(place).length).toBe(1);
});

it("Nothing goes on when the process ends without notice", async () => {
  const { starts, ffmpegPath } = counted("orphan", "", lingering);
  const place = path.join(folder, "orphans");
  const esbuild = await import("esbuild");
  const built = path.join(folder, "orphan.cjs");
  await esbuild.build({
    stdin: {
      contents: `import { Copies } from "./src/video/index";
        const copies = new Copies(${JSON.stringify({ folder: place, cacheDir, ffmpegPath })});
        void copies.make(${JSON.stringify(short)}, "whole");
        process.stdin.once("data", () => process.exit(0));`,
      resolveDir: path.join(import.meta.dirname, "..", ".."),
      loader: "ts",
    },
    ...{ outfile: built, bundle: true, platform: "node", format: "cjs", mainFields: ["module", "main"] },
    ...{ define: { "process.env.FLUENTFFMPEG_COV": "undefined" }, logLevel: "silent" },
  });
  const child = spawn(process.execPath, [built], { stdio: ["pipe", "ignore", "ignore"] });
  await vi.waitFor(() => expect(starts().length).toBe(1), 60_000);
  child.stdin.write("go\n");
  await once(child, "exit");
  await vi.waitFor(() => expect(starts().filter(runs)).toEqual([]), 20_000);
  expect(readdirSync(place).filter((name) => name.endsWith(".part"))).toEqual([]);
});

describe("The folder of copies", () => {
  /** Three copies, the first not used for longest, and a film of the user's own. */
  async function filled(mostBytes?: number) {
    const { copies, place } = copiesOf(mostBytes === undefined ? {} : { mostBytes });
    const files: string[] = [];
    for (let index = 0; index < 3; index += 1) {
      const copy = await copies.make(another(), "whole");
      if (!copy.ok) throw new Error(copy.problem.message);
      files.push(copy.value.file);
      utimesSync(copy.value.file, 1_700_000_000 + index, 1_600_000_000);
    }
    writeFileSync(path.join(place, "holiday.mp4"), "not ours");
    return { copies, place, files };
  }

  it("loses those not used for longest when it grows too large, but none that is played", async () => {
    const { place, files } = await filled();
    const bytes = files.reduce((sum, file) => sum + statSync(file).size, 0);
    const { copies } = copiesOf({ folder: place, mostBytes: bytes });
    const [first = "", second = "", third = ""] = files;
    const release = copies.hold(first);
    const made = await copies.make(another(), "whole");
    expect(made.ok).toBe(true);
    expect([existsSync(first), existsSync(second), existsSync(third)]).toEqual([true, false, true]);
    release();
    await copies.make(another(), "whole");
    expect(existsSync(first)).toBe(false);
    expect(existsSync(path.join(place, "holiday.mp4"))).toBe(true);
  });

  it("is cleared but for what is played, and nothing else in it is touched", async () => {
    const { copies, place, files } = await filled();
    const [first = "", ...others] = files;
    const bytes = others.reduce((sum, file) => sum + statSync(file).size, 0);
    const release = copies.hold(first);
    expect((await copies.size()).copies).toBe(3);
    expect(await copies.clear()).toEqual({ copies: 2, bytes });
    expect(readdirSync(place).toSorted()).toEqual([path.basename(first), "holiday.mp4"].toSorted());
    release();
    expect((await copies.clear()).copies).toBe(1);
  });

  it("loses what a machine that went off left behind a day ago, not what is being made", async () => {
    const { copies, place, files } = await filled();
    const old = `${files[0] ?? ""}.gone-1-aa.part`;
    const fresh = `${files[1] ?? ""}.here-1-bb.part`;
    writeFileSync(old, "");
    writeFileSync(fresh, "");
    utimesSync(old, 1_700_000_000, 1_700_000_000);
    await copies.clear();
    expect([existsSync(old), existsSync(fresh)]).toEqual([false, true]);
    expect(readdirSync(place).length).toBe(2);
  });

  it("that can't be written is said so", async () => {
    const inTheWay = path.join(folder, "a-file");
    writeFileSync(inTheWay, "");
    const { copies } = copiesOf({ folder: inTheWay });
    expect(await copies.make(short, "whole")).toMatchObject({ problem: { rule: "folder-unusable" } });
  });
});

it("The time left is told from how fast it went so far", () => {
  let now = 0;
  const progress = progressOf(100, () => now);
  now = 500;
  expect(progress(2)).toEqual({ share: 0.02, secondsLeft: null, state: "working" });
  now = 10_000;
  expect(progress(25)).toEqual({ share: 0.25, secondsLeft: 30, state: "working" });
  expect(progress(25)).toBeUndefined();
  now = 40_000;
  expect(progress(101)).toEqual({ share: 1, secondsLeft: 0, state: "working" });
});
