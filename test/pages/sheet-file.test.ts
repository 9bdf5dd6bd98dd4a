import path from "node:path";
import { HtmlValidate } from "html-validate";
import { describe, expect, test } from "vitest";
import { sheetOf } from "../../src/figures";
import { chartFiles, meaningsPage, sheetPage } from "../../src/pages";
import { sectionNames } from "../../src/pages/section";
import type { Study } from "../../src/rules";
import { at, boutWith, demo, fileOf, phrases, textOf, wholePageOf } from "./sheets";
import { fault } from "./well-formed";

const validator = new HtmlValidate({
  root: true,
  extends: ["html-validate:standard", "html-validate:a11y"],
  rules: {
    // A name may be long; nothing is shortened in a title.
    "long-title": "off",
    // The page is made in one piece: what HTML lets stand is not tidied for show.
    "no-trailing-whitespace": "off",
    // Tables with scope on every heading and regions one can scroll by key are what axe asks for.
    "prefer-native-element": ["error", { exclude: ["region"] }],
    "tel-non-breaking": "off",
  },
});

function faultsOf(html: string): string[] {
  const { results } = validator.validateStringSync(html);
  return results.flatMap(({ messages }) =>
    messages.map(({ ruleId, message, line, column }) => `${ruleId}: ${message} (${line}:${column})`),
  );
}

function panelDocument(study: Study): string {
  return `<!DOCTYPE html>\n<html lang="en"><head><meta charset="utf-8"><title>Study sheet</title></head><body><main>${wholePageOf(study)}</main></body></html>\n`;
}

const hostile = `<img src=x onerror=alert(1)>"' =1+1 & </style></svg>`;
const leftAttack = { actions: ["left attack"], lamps: { left: "valid" }, award: "left" };
const double = { actions: ["both attack"], lamps: { left: "valid", right: "valid" }, award: "both" };

/** Bouts of every kind, by what is odd about them. */
const kinds: Readonly<Record<string, Study>> = {
  "the demo": demo(),
  "no phrases": boutWith([]),
  "one phrase": boutWith(phrases(1, leftAttack)),
  "all doubles": boutWith(phrases(8, double), { bout: { weapon: "epee" } }),
  "no touches": boutWith(phrases(6, { actions: ["left attack"], lamps: {}, award: "none" })),
  "no lamps": boutWith(phrases(6, { actions: ["left attack"], award: "left" })),
  "no actions": boutWith(phrases(6, { lamps: { left: "valid" }, award: "left" })),
  "names with markup and formulas": boutWith(
    [
      ...phrases(6, { ...leftAttack, tags: [hostile], target: hostile, note: hostile }),
      { kind: "card", at: at(70), to: "right", card: "red", for: hostile },
      { kind: "stop", at: at(80), for: ["other"], by: "left" },
    ],
    { bout: { title: hostile, event: hostile }, left: { name: hostile }, right: { name: `=${hostile}` } },
  ),
};

describe("the study sheet as a file", () => {
  for (const [kind, study] of Object.entries(kinds))
    test(`is valid HTML, as is the panel: ${kind}`, () => {
      const file = fileOf(study, { [hostile]: hostile });
      expect(faultsOf(file)).toEqual([]);
      expect(faultsOf(panelDocument(study))).toEqual([]);
      expect(file).not.toMatch(/NaN|Infinity|undefined|<img/);
    });

  test("plays nothing: every number is plain text, and every section leads to its meaning on the page", () => {
    const file = fileOf(demo()).replace(/<style>.*<\/style>/s, "");
    expect(file).not.toMatch(/<button|class="evidence"|data-entries/);
    for (const name of sectionNames) {
      expect(file).toContain(`href="#meaning-${name}"`);
      expect(file).toContain(`id="meaning-${name}"`);
    }
  });

  test("prints what the coach's own words mean", () => {
    const page = textOf(fileOf(demo(), { "second intention": "the first attack is made to be parried" }));
    expect(page).toContain("second intention 2 phrases the first attack is made to be parried");
    expect(page).toContain("not told in tags.json");
  });

  test("says none yet where there is nothing to count", () => {
    const page = textOf(fileOf(boutWith(phrases(6, { award: "left" }))));
    expect(page).toContain("No actions tagged: none yet.");
    expect(page).toContain("No lamps recorded: none yet.");
    expect(page).toContain("Only 0 of 6 phrases have actions.");
  });
});

describe("only what is shown is worked out", () => {
  test("a folded section asks for no figures", () => {
    const { ledger, findings } = demo();
    const asked: string[] = [];
    const figures = new Proxy({} as never, {
      get: (_, name) => {
        asked.push(String(name));
        return [];
      },
    });
    sheetPage(sheetOf(ledger, findings), ledger, { figures, open: new Set() });
    expect(asked).toEqual(["summary"]);
  });
});

describe("no percentage stands alone", () => {
  test("each stands beside its count of how many and its limits", () => {
    const cells = fileOf(demo()).match(/<span class="counts">.*?<\/div>/gs) ?? [];
    const rates = cells.map(textOf).filter((text) => text.includes("%"));
    expect(rates.length).toBeGreaterThan(30);
    for (const rate of rates) expect(rate).toMatch(/^\d+ of \d+ \d+ % \d+ to \d+ %$/);
  });
});

describe("charts as files", () => {
  for (const [kind, { ledger, findings }] of Object.entries(kinds))
    test(`are well-formed SVG that needs nothing else: ${kind}`, () => {
      for (const { svg } of chartFiles(sheetOf(ledger, findings), ledger)) {
        const [declaration, ...rest] = svg.split("\n");
        expect(declaration).toBe('<?xml version="1.0" encoding="UTF-8"?>');
        const text = rest.join("\n");
        expect(fault(text.replace(/<style>[^<]*<\/style>/, ""))).toBeUndefined();
        expect(text).toMatch(/^<svg xmlns="http:\/\/www.w3.org\/2000\/svg" viewBox="0 0 \d+ [\d.]+" width/);
        expect(text).not.toMatch(/var\(|href|NaN|<script|data-entries/);
        expect(text).toContain('role="img" aria-label="');
      }
    });

  test("the demo has its score, who opened, which actions scored, and its drift", () => {
    const { ledger, findings } = demo();
    const names = chartFiles(sheetOf(ledger, findings), ledger).map(({ name }) => name);
    expect(names.slice(0, 4)).toEqual(["score", "opened", "actions", "drift"]);
  });
});

test("media/figures.md says what the pages say of each figure", async () => {
  const page = path.join(import.meta.dirname, "..", "..", "media", "figures.md");
  await expect(meaningsPage()).toMatchFileSnapshot(page);
});
