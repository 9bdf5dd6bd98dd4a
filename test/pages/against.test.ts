import { readFileSync } from "node:fs";
import { createRequire } from "node:module";
import type { AxeResults } from "axe-core";
import { afterAll, expect, it } from "vitest";
import { againstOf } from "../../src/figures";
import { againstPage, apartPage } from "../../src/pages/against";
import { inventedBout } from "../shelf/generated";
import { closeBrowser, shown, themeNames } from "./browser";
import { studied } from "./sheets";
import { fault } from "./well-formed";

afterAll(closeBrowser);

const recorded = (number: number) =>
  inventedBout(number, { bouts: 1, seed: 3 }).replace(
    '"recordings": []',
    '"recordings": [{ "file": "bout.mp4" }]',
  );
function pageOf(one: string, other: string): string {
  const [first, second] = [studied(one), studied(other)];
  return againstPage(
    [
      { file: "one.bout.json", study: first },
      { file: "<two>.bout.json", study: second },
    ],
    againstOf(first, second),
  );
}
const fencers = /"fencers": \{[^]*?\n {2}\},/;
/** The two fencers of bout 0 once more, in another bout. */
const again = recorded(3).replace(fencers, fencers.exec(recorded(0))?.[0] ?? "");
const twoBouts = pageOf(recorded(0), again);
const taggedTwice = pageOf(recorded(0), recorded(0).replace('"award": "left"', '"award": "right"'));

it("Two bouts are compared as wholes, each figure playing in the bout it is of", () => {
  expect(fault(twoBouts)).toBeUndefined();
  expect(twoBouts).toContain("Two bouts compared");
  expect(twoBouts).toContain("comparisons tried");
  expect(twoBouts).toContain("&lt;two&gt;.bout.json");
  const evidence = [...twoBouts.matchAll(/data-key="(comparison\.[^"]+)"[^>]*data-of="(\w+)"/g)];
  expect(evidence.length).toBeGreaterThan(3);
  for (const [, key = "", of] of evidence) expect(key.endsWith(`.${of ?? ""}`)).toBe(true);
});

it("One bout tagged twice shows how far both agree, and plays what they differ on in both", () => {
  expect(fault(taggedTwice)).toBeUndefined();
  expect(taggedTwice).toContain("One bout, tagged twice");
  expect(taggedTwice).toMatch(/<th scope="row">award<\/th><td>all matched phrases<\/td><td>59 of 60/);
  expect(taggedTwice).toContain('data-key="differs.0.first"');
  expect(taggedTwice).toContain('data-of="second"');
});

it("Bouts of different weapons are told to be so", () => {
  const other = pageOf(recorded(0), recorded(1).replace(/"weapon": "\w+"/, '"weapon": "epee"'));
  const same = pageOf(
    recorded(0).replace(/"weapon": "\w+"/, '"weapon": "foil"'),
    recorded(3).replace(/"weapon": "\w+"/, '"weapon": "foil"'),
  );
  expect(same).not.toContain("different weapons");
  expect(other.includes("different weapons")).toBe(!/"weapon": "epee"/.test(recorded(0)));
});

it("Files that can't be compared are told with their reasons", () => {
  const page = apartPage(["<b>.bout.json can't be read as a bout file."]);
  expect(fault(page)).toBeUndefined();
  expect(page).toContain("&lt;b&gt;.bout.json");
});

const axe = readFileSync(createRequire(import.meta.url).resolve("axe-core/axe.min.js"), "utf8");
for (const theme of themeNames)
  it(`axe finds nothing on both pages: ${theme}`, async () => {
    for (const html of [twoBouts, taggedTwice, apartPage(["one.bout.json can't be read."])]) {
      const page = await shown(html, theme, 900);
      await page.addScriptTag({ content: axe });
      const { violations } = await page.evaluate(async () =>
        (window as unknown as { axe: { run(): Promise<AxeResults> } }).axe.run(),
      );
      expect(violations.map(({ id, nodes }) => `${id}: ${nodes[0]?.html.slice(0, 200) ?? ""}`)).toEqual([]);
      await page.close();
    }
  }, 90_000);
