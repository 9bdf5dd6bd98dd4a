import { readFileSync } from "node:fs";
import { createRequire } from "node:module";
import type { AxeResults, RunOptions } from "axe-core";
import type { Page } from "playwright-core";
import { afterAll, describe, expect, test } from "vitest";
import { closeBrowser, shown, themeNames, type ThemeName } from "./browser";
import { boutWith, demo, pageOf } from "./sheets";

const axe = readFileSync(createRequire(import.meta.url).resolve("axe-core/axe.min.js"), "utf8");
const patient = 90_000;
const sheet = pageOf(demo());

afterAll(closeBrowser);

async function violations(html: string, theme: ThemeName, width: number): Promise<string[]> {
  const page = await shown(html, theme, width);
  try {
    await unfold(page);
    await page.addScriptTag({ content: axe });
    const found = await page.evaluate(async () => {
      const { axe: checker } = window as unknown as {
        axe: { run(options: RunOptions): Promise<AxeResults> };
      };
      return checker.run({ rules: { "target-size": { enabled: true } } });
    });
    return found.violations.map(
      ({ id, nodes }) => `${id}: ${nodes.length} times, first ${nodes[0]?.html.slice(0, 200) ?? ""}`,
    );
  } finally {
    await page.close();
  }
}

function unfold(page: Page): Promise<void> {
  return page.evaluate(() => {
    for (const one of document.querySelectorAll("details")) one.open = true;
  });
}

/** Inside the margins of A4, in CSS pixels. */
const paperWidth = Math.floor((180 / 25.4) * 96);

describe("everybody can read the study sheet", () => {
  for (const theme of themeNames)
    test(
      `axe finds nothing: ${theme}`,
      async () => {
        expect(await violations(sheet, theme, 900)).toEqual([]);
      },
      patient,
    );

  test(
    "axe finds nothing in a narrow panel, nor on the page of an empty bout",
    async () => {
      expect(await violations(sheet, "dark theme", 400)).toEqual([]);
      expect(await violations(pageOf(boutWith([])), "light theme", 900)).toEqual([]);
    },
    patient,
  );

  for (const width of [360, 500, 700, 900, 1300])
    test(
      `nothing is cut off or needs scrolling sideways at ${width} pixels`,
      async () => {
        const page = await shown(sheet, "light theme", width);
        await unfold(page);
        expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBe(width);
        // Cells must not run into each other.
        const overlaps = await page.evaluate(() => {
          const boxes = Array.from(document.querySelectorAll(".sides .rate > *, .sides th[scope=row]"))
            .map((one) => ({ one, box: one.getBoundingClientRect() }))
            .filter(({ box }) => box.width > 0);
          return boxes.flatMap(({ one, box }, index) =>
            boxes
              .slice(index + 1)
              .filter(
                ({ box: other }) =>
                  box.left < other.right - 1 &&
                  other.left < box.right - 1 &&
                  box.top < other.bottom - 8 &&
                  other.top < box.bottom - 8,
              )
              .map(({ one: other }) => `${one.outerHTML.slice(0, 80)} and ${other.outerHTML.slice(0, 80)}`),
          );
        });
        expect(overlaps).toEqual([]);
        await page.close();
      },
      patient,
    );

  test(
    "fits on A4 in black on white, whatever the theme, without what only a screen can do",
    async () => {
      const page = await shown(sheet, "dark high contrast", paperWidth);
      await page.emulateMedia({ media: "print" });
      const look = await page.evaluate(() => {
        const { color, backgroundColor } = getComputedStyle(document.body);
        const button = document.querySelector(".evidence");
        return {
          width: document.documentElement.scrollWidth,
          colours: [color, backgroundColor, button === null ? "" : getComputedStyle(button).color],
          text: document.body.innerText,
        };
      });
      expect(look.width).toBe(paperWidth);
      expect(look.colours).toEqual(["rgb(0, 0, 0)", "rgb(255, 255, 255)", "rgb(0, 0, 0)"]);
      expect(look.text).not.toContain("Every underlined number");
      const pdf = (await page.pdf({ format: "A4", preferCSSPageSize: true })).toString("latin1");
      expect(pdf.match(/\/Type\s*\/Page\b/g)?.length).toBeLessThanOrEqual(4);
      await page.close();
    },
    patient,
  );
});
