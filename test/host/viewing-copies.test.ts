import { existsSync, mkdirSync, readdirSync, rmSync } from "node:fs";
import path from "node:path";
import { afterEach, expect, it, vi } from "vitest";
import { timeLeft } from "../../src/host/time-left";
import { ViewingCopies, type CopyWork, type ViewingCopiesOptions } from "../../src/host/viewing-copies";
import { make, picture, plain, script, temporaryFolder, tone } from "../video/making";

const folder = temporaryFolder();
const open: ViewingCopies[] = [];
afterEach(async () => {
  await Promise.all(open.splice(0).map((copies) => copies.end()));
});

let made = 0;

function newCopies(options: Partial<ViewingCopiesOptions> = {}, ffmpegPath?: string) {
  const own = path.join(folder, `copies-${++made}`);
  mkdirSync(own);
  const changed = vi.fn<(file: string) => void>();
  const hindered = vi.fn<(sentence: string) => void>();
  const works: CopyWork[] = [];
  const copies = new ViewingCopies({
    settings: () => ({
      ffmpegPath,
      ffprobePath: undefined,
      folder: own,
      cacheDir: path.join(folder, "tables"),
      lines: 540,
      mostBytes: 20e9,
    }),
    trusted: () => true,
    automatic: () => true,
    desktop: false,
    frames: () => Promise.resolve(),
    changed,
    hindered,
    watch: (work) => works.push(work),
    ...options,
  });
  open.push(copies);
  return { copies, own, changed, hindered, works };
}

const played = { picture: true, sound: true };
const quick = make(folder, "quick.mp4", ...picture("25", 1), ...plain);
const heard = make(folder, "heard.mp4", ...picture("25", 1), ...tone(1), ...plain, "-c:a", "aac");

it("A recording that plays, is heard and can be gone through needs no copy", async () => {
  const { copies, own, works } = newCopies();
  await copies.tried(quick, played);
  expect(copies.status(quick)).toEqual({ copy: undefined, words: "", problem: "", settled: true });
  expect(works).toEqual([]);
  expect(readdirSync(own)).toEqual([]);
});

it("A picture that did not show is copied, told while it is made, and found the next time", async () => {
  const first = newCopies();
  expect(first.copies.status(quick).settled).toBe(false);
  await first.copies.tried(quick, { picture: false, sound: false });
  const { copy, words, settled, problem } = first.copies.status(quick);
  expect({ words, settled, problem }).toEqual({ words: "viewing copy", settled: true, problem: "" });
  expect(copy?.index.times.length).toBe(25);
  expect(existsSync(copy?.file ?? "")).toBe(true);
  expect(first.works.map(({ name }) => name)).toEqual(["quick.mp4"]);
  expect(first.changed).toHaveBeenLastCalledWith(quick);
  expect((await first.copies.find(quick))?.file).toBe(copy?.file);
});

it("A sound that was never decoded is converted, the picture kept", async () => {
  const { copies } = newCopies();
  await copies.tried(heard, { picture: true, sound: false });
  expect(copies.status(heard).copy?.file).toMatch(/\.mp4$/);
});

it("On the desktop a sound it has no decoder for is known by its codec", async () => {
  const browser = newCopies();
  await browser.copies.tried(heard, played);
  expect(browser.copies.status(heard).copy).toBeUndefined();
  const desktop = newCopies({ desktop: true });
  await desktop.copies.tried(heard, played);
  expect(desktop.copies.status(heard).copy).toBeDefined();
});

it("Nothing is made in a workspace that is not trusted, nor by itself where the user does not want it", async () => {
  const untrusted = newCopies({ trusted: () => false });
  await untrusted.copies.tried(quick, { picture: false, sound: false });
  expect(untrusted.copies.status(quick).problem).toContain("trusted");
  await untrusted.copies.make(quick);
  expect(untrusted.works).toEqual([]);
  expect(await untrusted.copies.find(quick)).toBeUndefined();

  const byHand = newCopies({ automatic: () => false });
  await byHand.copies.tried(quick, { picture: false, sound: false });
  expect(byHand.copies.status(quick).problem).toContain("Make a viewing copy of the recording");
  await byHand.copies.make(quick);
  expect(byHand.copies.status(quick).copy).toBeDefined();
});

it("What had to wait for trust is done once it is granted", async () => {
  let trusted = false;
  const { copies } = newCopies({ trusted: () => trusted });
  await copies.tried(quick, { picture: false, sound: false });
  expect(copies.status(quick).copy).toBeUndefined();
  trusted = true;
  await copies.trustGranted();
  expect(copies.status(quick).copy).toBeDefined();
});

it("A cancelled copy leaves nothing behind and is not begun again by itself", async () => {
  const long = make(folder, "long.mp4", ...picture("25", 8), ...plain);
  const { copies, own, works } = newCopies();
  const tried = copies.tried(long, { picture: false, sound: true });
  await vi.waitFor(() => expect(works.length).toBe(1), 20_000);
  works[0]?.cancel();
  await tried;
  expect(copies.status(long)).toMatchObject({ copy: undefined, settled: true });
  expect(copies.status(long).problem).toContain("No viewing copy was made");
  expect(readdirSync(own).filter((name) => /part|mp4/.test(name))).toEqual([]);
  await copies.tried(long, { picture: false, sound: false });
  expect(works.length).toBe(1);
});

it("Where ffmpeg is missing or fails, the user is told once what to do, and the picture that plays is left alone", async () => {
  const { copies, hindered } = newCopies({}, path.join(folder, "no-ffmpeg"));
  await copies.tried(heard, { picture: true, sound: false });
  expect(hindered).toHaveBeenCalledTimes(1);
  expect(hindered.mock.lastCall?.[0]).toMatch(/ffmpeg/);
  expect(copies.status(heard)).toMatchObject({ copy: undefined, problem: "", settled: true });

  const broken = newCopies({}, script(folder, "broken", "exit 1"));
  await broken.copies.tried(quick, { picture: false, sound: false });
  expect(broken.copies.status(quick).problem).not.toBe("");
});

it("A copy being played is not cleared away", async () => {
  const { copies } = newCopies();
  await copies.make(quick);
  const { copy } = copies.status(quick);
  if (copy === undefined) throw new Error("no copy");
  await copies.hold(copy, "viewer");
  expect(await copies.clear()).toEqual({ copies: 0, bytes: 0 });
  copies.release("viewer");
  expect((await copies.clear()).copies).toBe(1);
  expect(existsSync(copy.file)).toBe(false);
});

it("A recording that is gone is told as such", async () => {
  const gone = make(folder, "gone.mp4", ...picture("25", 1), ...plain);
  rmSync(gone);
  const { copies } = newCopies();
  await copies.tried(gone, { picture: false, sound: false });
  expect(copies.status(gone)).toMatchObject({ copy: undefined, settled: true });
  expect(copies.status(gone).problem).toContain("gone.mp4");
});

it("Time left is told in words a person would use", () => {
  expect([3, 27, 62, 178, 3600, 7500].map(timeLeft)).toEqual([
    "a few seconds left",
    "30 seconds left",
    "a minute left",
    "3 minutes left",
    "1 hour 0 minutes left",
    "2 hours 5 minutes left",
  ]);
});
