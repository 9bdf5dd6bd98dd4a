import { mkdirSync, mkdtempSync, realpathSync, renameSync, rmSync, utimesSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import path from "node:path";
import { afterEach, beforeEach, expect, it } from "vitest";
import { candidatesFor, missingOf, namedIn } from "../../src/host/find-again";
import { PrintRound } from "../../src/host/print-round";
import { Prints } from "../../src/host/prints";
import type { BoutRow } from "../../src/shelf";
import { boutRow } from "./rows";

let folder: string;
let prints: Prints;
beforeEach(() => {
  folder = realpathSync(mkdtempSync(path.join(tmpdir(), "boutline-again-")));
  prints = new Prints(path.join(folder, "kept", "prints.json"));
});
afterEach(async () => {
  await prints.save();
  rmSync(folder, { recursive: true, force: true });
});

const at = (...steps: string[]) => path.join(folder, ...steps);
function recording(name: string, content: string): string {
  mkdirSync(path.dirname(at(name)), { recursive: true });
  writeFileSync(at(name), content);
  return at(name);
}
function bout(name: string, file: string, present = false): BoutRow {
  return boutRow(at(name), { recordings: [{ file, present }] });
}
async function found(missing: ReturnType<typeof missingOf>) {
  const candidates = await candidatesFor(missing, [folder], prints);
  return [...candidates].map(([{ place }, all]) => [
    path.relative(folder, place),
    ...all.map(({ file, likeness }) => `${path.relative(folder, file)}: ${likeness}`),
  ]);
}

it("A recording that was moved and renamed is known by its fingerprint, not by its size alone", async () => {
  await prints.see(recording("qf.mp4", "the quarter-final"));
  mkdirSync(at("archive"));
  renameSync(at("qf.mp4"), at("archive", "cam 2.mp4"));
  recording("archive/other.mp4", "another recording");
  expect("another recording").toHaveLength("the quarter-final".length);
  const missing = missingOf([bout("a.bout.json", "qf.mp4")], [bout("a.bout.json", "qf.mp4")]);
  expect(await found(missing)).toEqual([
    ["qf.mp4", `${path.join("archive", "cam 2.mp4")}: the same recording`],
  ]);
});

it("Without a fingerprint a file of the same name is offered as not proven; with one, another recording is told", async () => {
  const bouts = [bout("a.bout.json", "video/qf.MP4")];
  recording("elsewhere/QF.mp4", "who knows");
  const offered = path.join("elsewhere", "QF.mp4");
  expect(await found(missingOf(bouts, bouts))).toEqual([
    [path.join("video", "qf.MP4"), `${offered}: not proven the same`],
  ]);
  await prints.see(recording("video/qf.MP4", "another one"));
  rmSync(at("video", "qf.MP4"));
  expect(await found(missingOf(bouts, bouts))).toEqual([
    [path.join("video", "qf.MP4"), `${offered}: another recording`],
  ]);
});

it("All bouts that name the missing recording are told, however they write it", () => {
  const bouts = [
    bout("a.bout.json", "video/qf.mp4"),
    bout("b/b.bout.json", "../video/./qf.mp4"),
    bout("b/c.bout.json", "video/qf.mp4"),
    bout("d.bout.json", "video/there.mp4", true),
  ];
  const [missing, ...others] = missingOf(bouts.slice(0, 1), bouts);
  expect(others).toEqual([]);
  expect(missing).toEqual({
    place: at("video", "qf.mp4"),
    named: [
      { boutFile: at("a.bout.json"), written: "video/qf.mp4" },
      { boutFile: at("b", "b.bout.json"), written: "../video/./qf.mp4" },
    ],
  });
  expect(namedIn(at("nowhere.mp4"), bouts)).toEqual([]);
  expect(missingOf(bouts, bouts)).toHaveLength(2);
});

it("Fingerprints outlive the window, beside those of another one, and a damaged file counts as nothing known", async () => {
  const kept = at("kept", "prints.json");
  const one = recording("one.mp4", "one");
  const two = recording("two.mp4", "two");
  const other = new Prints(kept);
  await Promise.all([prints.see(one), other.see(two)]);
  await prints.save();
  await other.save();
  const later = new Prints(kept);
  expect(await later.of(one)).toMatchObject({ size: 3 });
  expect(await later.of(two)).toMatchObject({ size: 3 });
  writeFileSync(kept, "{");
  expect(await new Prints(kept).of(one)).toBeUndefined();
});

it("A recording that has changed gets another fingerprint; one that can't be read gets none", async () => {
  const file = recording("one.mp4", "one");
  const before = await prints.see(file);
  expect(await prints.see(file)).toEqual(before);
  writeFileSync(file, "ONE");
  utimesSync(file, 1, 1);
  expect((await prints.see(file))?.print).not.toBe(before?.print);
  expect(await prints.see(at("nothing.mp4"))).toBeUndefined();
  expect(await prints.see(folder)).toBeUndefined();
});

it("The round looks at each recording that is there once, and at none in a workspace that is not trusted", async () => {
  recording("one.mp4", "one");
  recording("two.mp4", "two");
  const asked: string[] = [];
  let trusted = false;
  const round = new PrintRound({
    prints,
    trusted: () => trusted,
    find: (boutFile, written) => {
      asked.push(written);
      return Promise.resolve(path.join(path.dirname(boutFile), written));
    },
    pause: 0,
  });
  const bouts = [
    bout("a.bout.json", "one.mp4", true),
    bout("b.bout.json", "one.mp4", true),
    bout("c.bout.json", "gone.mp4"),
    bout("d.bout.json", "two.mp4", true),
  ];
  await round.over(bouts);
  expect(asked).toEqual([]);
  trusted = true;
  await round.over(bouts);
  await round.over(bouts);
  expect(asked).toEqual(["one.mp4", "two.mp4"]);
  expect(await prints.of(at("two.mp4"))).toMatchObject({ size: 3 });
});
