import { existsSync, readFileSync, writeFileSync } from "node:fs";
import path from "node:path";
import { setTimeout as pause } from "node:timers/promises";
import { expect, it } from "vitest";
import { Claim } from "../../src/video/claim";
import { temporaryFolder } from "./making";

const folder = temporaryFolder();
const quick = { beat: 40, silence: 400 };
let places = 0;

function place(): string {
  places += 1;
  return path.join(folder, `${places}.lock`);
}

it("Of many who want to make the same copy at once, one does", async () => {
  const file = place();
  const claims = Array.from({ length: 20 }, () => new Claim(file));
  const taken = await Promise.all(claims.map((claim) => claim.take()));
  expect(taken.filter((answer) => answer === true).length).toBe(1);
  expect(JSON.parse(readFileSync(file, "utf8"))).toMatchObject({ owner: claims[taken.indexOf(true)]?.owner });
  await Promise.all(claims.map((claim) => claim.release()));
  expect(existsSync(file)).toBe(false);
});

it("Others are told how far the owner is, for as long as it lives", async () => {
  const file = place();
  const owner = new Claim(file, quick);
  const other = new Claim(file, quick);
  expect(await owner.take()).toBe(true);
  owner.share = 0.4;
  for (let round = 0; round < 12; round += 1) {
    await pause(100);
    expect(await other.take()).not.toBe(true);
  }
  expect(await other.take()).toEqual({ share: 0.4 });
  await owner.release();
  expect(await other.take()).toBe(true);
  await other.release();
});

it("The claim of a machine that went off is taken over, by one of those who wait", async () => {
  const file = place();
  writeFileSync(file, '{"owner":"gone","machine":"gone","process":1,"beat":7,"share":0.5}\n');
  const waiting = Array.from({ length: 5 }, () => new Claim(file, quick));
  expect(await Promise.all(waiting.map((claim) => claim.take()))).not.toContain(true);
  let taken: unknown[] = [];
  for (let round = 0; round < 40 && !taken.includes(true); round += 1) {
    await pause(50);
    taken = await Promise.all(waiting.map((claim) => claim.take()));
  }
  expect(taken.filter((answer) => answer === true).length).toBe(1);
  for (const claim of waiting) await claim.release();
});

it("An owner whose claim was taken over leaves the new one alone", async () => {
  const file = place();
  const slept = new Claim(file, { beat: 60_000, silence: 60_000 });
  expect(await slept.take()).toBe(true);
  const other = new Claim(file, { beat: 60_000, silence: 50 });
  await other.take();
  await pause(100);
  expect(await other.take()).toBe(true);
  await slept.release();
  expect(JSON.parse(readFileSync(file, "utf8"))).toMatchObject({ owner: other.owner });
  await other.release();
});

it("A folder that is not there can't be claimed in", async () => {
  await expect(new Claim(path.join(folder, "nowhere", "1.lock")).take()).rejects.toThrow("ENOENT");
});
