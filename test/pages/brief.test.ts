// The brief as a page: valid HTML, nothing for axe to find, every figure's evidence readable again.

import { mkdirSync, readFileSync, writeFileSync } from "node:fs";
import { createHash } from "node:crypto";
import { createRequire } from "node:module";
import path from "node:path";
import type { AxeResults, RunOptions } from "axe-core";
import { HtmlValidate } from "html-validate";
import { afterAll, describe, expect, test } from "vitest";
import { briefOf, countOf, planThings, shownPlan, type Brief, type ShownPlan } from "../../src/figures/brief";
import {
  briefFile,
  briefPage,
  briefPieces,
  briefPlayer,
  planNotes,
  readEvidence,
} from "../../src/pages/brief";
import { season, seasonTexts, boutRead, strongOpener, nothingToFind } from "../figures/brief/season";
import { closeBrowser, shown, themeNames } from "./browser";
import { fault } from "./well-formed";

const axe = readFileSync(createRequire(import.meta.url).resolve("axe-core/axe.min.js"), "utf8");
const css = readFileSync(path.join(import.meta.dirname, "..", "..", "media", "sheet.css"), "utf8");
const style = { css, hash: createHash("sha256").update(css).digest("base64") };
const validator = new HtmlValidate({
  root: true,
  extends: ["html-validate:standard", "html-validate:a11y"],
  rules: {
    "long-title": "off",
    "no-trailing-whitespace": "off",
    "prefer-native-element": ["error", { exclude: ["region"] }],
    "tel-non-breaking": "off",
  },
});

function made(bouts: Parameters<typeof briefOf>[0], id = "tarn", against?: string): Brief {
  const brief = briefOf(bouts, id, against);
  if (!brief.ok) throw new Error(brief.problem);
  return brief.value;
}
/** The panel's page as its script puts it together. */
function panelPage(brief: Brief, plan: ShownPlan = nothingWritten(brief)): string {
  const { top, rest } = briefPieces(brief, []);
  const notes = planNotes(brief, plan, briefPlayer(brief, "panel"));
  const things = plan.things.map(
    ({ words }, at) =>
      `<li class="thing"><label for="thing-${at}">${at + 1}. To do</label><textarea id="thing-${at}" rows="2">${words}</textarea><div class="notes">${notes[at] ?? ""}</div></li>`,
  );
  return `${top}<section class="sheet brief plan-panel"><h2>Plan: three things to do</h2><ol class="things">${things.join("")}</ol></section>${rest}`;
}
function nothingWritten(brief: Brief): ShownPlan {
  return shownPlan(brief, undefined, () => undefined);
}

const thirty = made(season(30, strongOpener, 7, 60, "elimination"));
const hostile = `<img src=x onerror=alert(1)>"' =1+1 & </style></svg>`;
const briefs: Readonly<Record<string, Brief>> = {
  "thirty bouts": thirty,
  "one bout": made(season(1, nothingToFind, 1)),
  "bouts between two": made(season(20, strongOpener, 2), "tarn", "odrey"),
  "two who never met": made(season(20, strongOpener, 2), "brisk", "odrey"),
  "a hostile name": made(
    seasonTexts(3, nothingToFind, 1).map(({ file, text }) =>
      boutRead(file, text.replaceAll('"Vessa Tarn"', JSON.stringify(hostile))),
    ),
  ),
};

afterAll(closeBrowser);

describe("the page of a brief", () => {
  for (const [name, brief] of Object.entries(briefs))
    test(`is valid HTML: ${name}`, () => {
      const file = briefFile(brief, undefined, style);
      const { results } = validator.validateStringSync(file);
      expect(
        results.flatMap(({ messages }) => messages.map(({ message, line }) => `${line}: ${message}`)),
      ).toEqual([]);
      for (const page of [panelPage(brief), briefPage(brief, nothingWritten(brief))]) {
        expect(fault(page)).toBeUndefined();
        expect(page).not.toContain("<img");
        expect(page).not.toMatch(/NaN|undefined|Infinity/);
      }
    });

  test("every button plays what its number counts", () => {
    const page = panelPage(thirty);
    const buttons = [...page.matchAll(/data-key="([^"]*)" data-evidence="([^"]*)"[^>]*>([^<]*)</g)];
    expect(buttons.length).toBeGreaterThan(100);
    expect(new Set(buttons.map(([, key]) => key)).size).toBe(buttons.length);
    for (const [, , written = "", words = ""] of buttons) {
      const evidence = readEvidence(written, thirty.bouts);
      if (evidence === undefined) throw new Error(written);
      if (/^\d+$/.test(words)) expect(countOf(evidence)).toBe(Number(words));
    }
    expect(readEvidence("0:1;99:2", thirty.bouts)).toBeUndefined();
    expect(readEvidence("x", thirty.bouts)).toBeUndefined();
  });

  test("a file plays nothing, has room for three things, and shows the cautions", () => {
    const file = briefFile(thirty, undefined, style);
    expect(file).not.toContain("<button");
    expect(file.match(/class="lines"/g)).toHaveLength(3);
    expect(file).toContain("category is health data");
    expect(file).toContain("health data)");
  });

  test("a written plan stands in the file, escaped, each thing with the phrases it is tied to", () => {
    const [bout] = thirty.bouts;
    if (bout === undefined) throw new Error("no bout");
    const phrases = Array.from({ length: 9 }, (_, at) => ({ file: bout.file, entry: at, at: at * 9000 }));
    const plan: ShownPlan = {
      things: [
        { words: hostile, ties: [{ about: "ripostes", phrases, lost: 2 }], suggestion: null },
        { words: "", ties: [], suggestion: thirty.plan[0] ?? null },
        { words: "Wait", ties: [], suggestion: null },
      ],
    };
    const file = briefFile(thirty, plan, style);
    expect(file).not.toContain("<img");
    expect(file).toContain("&lt;img src=x");
    expect(file).toContain("ripostes (9 phrases of 1 bout; 2 not in the bout files any more)");
    expect(file).toContain(" and 3 more.");
    // Only what is not written yet has lines to write on.
    expect(file.match(/class="lines"/g)).toHaveLength(1);
    const panel = panelPage(thirty, plan);
    expect(panel).toContain('data-untie="ripostes" data-thing="0"');
    expect(panel).toContain("Tied to no phrases yet");
    expect(plan.things).toHaveLength(planThings);
  });

  test("axe finds nothing in any theme", async () => {
    const pictures = path.join(import.meta.dirname, "..", "..", "test-results", "brief");
    mkdirSync(pictures, { recursive: true });
    writeFileSync(path.join(pictures, "brief.html"), briefFile(thirty, undefined, style));
    for (const theme of themeNames) {
      const page = await shown(panelPage(thirty), theme, 900);
      await page.evaluate(() => document.querySelectorAll("details").forEach((one) => (one.open = true)));
      await page.addScriptTag({ content: axe });
      const { violations } = await page.evaluate(async () => {
        const { axe: checker } = window as unknown as {
          axe: { run(options: RunOptions): Promise<AxeResults> };
        };
        return checker.run({ rules: { "target-size": { enabled: true } } });
      });
      await page.screenshot({ path: path.join(pictures, `${theme}.png`), fullPage: true });
      await page.close();
      expect(violations.map(({ id, nodes }) => `${theme}: ${id}: ${nodes[0]?.html ?? ""}`)).toEqual([]);
    }
  }, 120_000);
});
