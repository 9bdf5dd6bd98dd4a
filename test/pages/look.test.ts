import { readFileSync } from "node:fs";
import { createRequire } from "node:module";
import type { AxeResults, RunOptions } from "axe-core";
import type { Page } from "playwright-core";
import { afterAll, describe, expect, test } from "vitest";
import { closeBrowser, opened, shown, themeNames, type ThemeName } from "./browser";
import { boutWith, demo, fileOf, pageOf, wholePageOf } from "./sheets";

const axe = readFileSync(createRequire(import.meta.url).resolve("axe-core/axe.min.js"), "utf8");
const patient = 90_000;
const sheet = wholePageOf(demo());
const file = fileOf(demo());

afterAll(closeBrowser);

async function violations(html: string, theme: ThemeName, width: number): Promise<string[]> {
  const page = await shown(html, theme, width);
  try {
    return await found(page);
  } finally {
    await page.close();
  }
}

async function found(page: Page): Promise<string[]> {
  await unfold(page);
  await page.addScriptTag({ content: axe });
  const { violations } = await page.evaluate(async () => {
    const { axe: checker } = window as unknown as {
      axe: { run(options: RunOptions): Promise<AxeResults> };
    };
    return checker.run({ rules: { "target-size": { enabled: true } } });
  });
  return violations.map(
    ({ id, nodes }) => `${id}: ${nodes.length} times, first ${nodes[0]?.html.slice(0, 200) ?? ""}`,
  );
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

  for (const dark of [false, true])
    test(
      `axe finds nothing in the file, ${dark ? "dark" : "light"}`,
      async () => {
        const page = await opened(withoutPolicy(file), dark);
        expect(await found(page)).toEqual([]);
        await page.close();
      },
      patient,
    );

  test(
    "the file asks the network for nothing, and its policy lets its own style in",
    async () => {
      const page = await opened(file);
      const said: string[] = [];
      page.on("request", (request) => said.push(request.url()));
      page.on("console", (message) => said.push(message.text()));
      await page.setContent(file);
      expect(said).toEqual([]);
      expect(await page.evaluate(() => getComputedStyle(document.body).marginTop)).toBe("0px");
      expect(file).not.toMatch(/<script|\b(?:src|href)="(?!#)|url\(|@import/);
      await page.close();
    },
    patient,
  );

  test(
    "the demo's sheet prints on two pages of A4, black on white, and answers a coach's ten first questions",
    async () => {
      const page = await opened(file, true, paperWidth);
      await page.emulateMedia({ media: "print" });
      const look = await page.evaluate(() => {
        const { color, backgroundColor } = getComputedStyle(document.body);
        return { colours: [color, backgroundColor], text: document.body.innerText };
      });
      expect(look.colours).toEqual(["rgb(0, 0, 0)", "rgb(255, 255, 255)"]);
      const text = look.text.replace(/\s+/g, " ");
      for (const answer of answers) expect(text).toContain(answer);
      const pdf = (await page.pdf({ format: "A4", preferCSSPageSize: true })).toString("latin1");
      expect(pdf.match(/\/Type\s*\/Page\b/g)).toHaveLength(2);
      await page.close();
    },
    patient,
  );
});

/** Who won, where did it turn, who commits first, what scores, where does it land, what answers the attack, who gets
 * both lamps, what did reviews and cards do, does anyone fade, is any of it more than chance? */
const answers = [
  "Kel Odrey beat Vessa Tarn 15 to 12",
  "The lead passed over 3 times; the largest lead was 3 touches for Kel Odrey",
  "touch Vessa Tarn 10 of 25 40 % 23 to 59 % 1 of 14 7 % 1 to 31 %",
  "riposte 7 of 10 70 % 40 to 89 %",
  "chest 5 of 14 36 % 16 to 61 %",
  "First action and answer",
  "given to Vessa Tarn, who opened 4 of 5 80 % 38 to 96 %",
  "red lifting from the seat touch Vessa Tarn",
  "Vessa Tarn, touch when opening first half 7 of 12, second half 3 of 13",
  "20 comparisons tried; none shows more than chance would make.",
];

/** A browser's tools can't put a script into a page whose policy forbids all. */
function withoutPolicy(html: string): string {
  return html.replace(/<meta http-equiv="Content-Security-Policy"[^>]*>/, "");
}
