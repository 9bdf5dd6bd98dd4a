import { createHash } from "node:crypto";
import { execFileSync } from "node:child_process";
import { mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { createRequire } from "node:module";
import { tmpdir } from "node:os";
import path from "node:path";
import { pathToFileURL } from "node:url";
import type { AxeResults, RunOptions } from "axe-core";
import { HtmlValidate } from "html-validate";
import { afterAll, describe, expect, test } from "vitest";
import { classAgreementOf } from "../../src/figures/class-agreement";
import { classAgreementFile } from "../../src/pages/class-agreement";
import { classOfTwelve } from "../figures/seminar-class";
import { launchChromium } from "../run/chromium.mjs";
import { closeBrowser, opened } from "./browser";
import { fault } from "./well-formed";

const media = path.join(import.meta.dirname, "..", "..", "media");
const css = ["sheet.css", "class-agreement.css"]
  .map((name) => readFileSync(path.join(media, name), "utf8"))
  .join("\n");
const { key, answers } = classOfTwelve();
const style = { css, hash: createHash("sha256").update(css).digest("base64") };
const html = classAgreementFile(classAgreementOf(key, answers), style, "pack/");
const axe = readFileSync(createRequire(import.meta.url).resolve("axe-core/axe.min.js"), "utf8");
const patient = 90_000;

afterAll(closeBrowser);

describe("the page about a class", () => {
  test("is valid HTML in which a name stays a name", async () => {
    const validator = new HtmlValidate({
      root: true,
      extends: ["html-validate:standard", "html-validate:a11y"],
      // As for the study sheet: regions one can scroll by key, and scope on every heading, are what axe asks for.
      rules: { "long-title": "off", "no-redundant-role": "off", "prefer-native-element": "off" },
    });
    const { results } = await validator.validateString(html);
    expect(
      results.flatMap(({ messages }) => messages.map(({ ruleId, message }) => `${ruleId}: ${message}`)),
    ).toEqual([]);
    const body = html.slice(html.indexOf("<main>"), html.indexOf("</body>"));
    expect(fault(body)).toBeUndefined();
    expect(html).toContain("Evening &lt;seminar&gt;");
  });

  test.each([
    ["light", false, 900],
    ["dark", true, 900],
    ["narrow", false, 450],
  ])(
    "axe finds nothing: %s",
    async (_, dark, width) => {
      const bare = html.replace(/<meta http-equiv[^>]*>/, "");
      const page = await opened(bare, dark, width);
      await page.addScriptTag({ content: axe });
      const { violations } = await page.evaluate(async () => {
        const { axe: checker } = window as unknown as {
          axe: { run(options: RunOptions): Promise<AxeResults> };
        };
        return checker.run({ rules: { "target-size": { enabled: true } } });
      });
      expect(violations.map(({ id, nodes }) => `${id}: ${nodes[0]?.html ?? ""}`)).toEqual([]);
      expect(await page.evaluate(() => document.documentElement.scrollWidth <= innerWidth)).toBe(true);
      await page.close();
    },
    patient,
  );

  test(
    "plays a clip from disk that lies beside it, is on two printed pages, and its rows lead to the players",
    async () => {
      const folder = mkdtempSync(path.join(tmpdir(), "class-"));
      const browser = await launchChromium();
      try {
        mkdirSync(path.join(folder, "pack", "clips"), { recursive: true });
        const clip = path.join(folder, "pack", "clips", "a0000000.mp4");
        const picture = ["-f", "lavfi", "-i", "testsrc=d=1:s=160x120", "-pix_fmt", "yuv420p"];
        execFileSync("ffmpeg", ["-loglevel", "error", ...picture, clip]);
        const file = path.join(folder, "class.html");
        writeFileSync(file, html);
        const page = await browser.newPage({ viewport: { width: 900, height: 800 } });
        const refused: string[] = [];
        page.on("console", (message) => refused.push(message.text()));
        await page.goto(pathToFileURL(file).href);
        await page.locator('a[href="#clip-a0000000"]').first().click();
        expect(await page.locator("figure:target video").count()).toBe(1);
        const seconds = await page.locator("#clip-a0000000 video").evaluate(async (element) => {
          const video = element as HTMLVideoElement;
          video.muted = true;
          await video.play();
          return video.duration;
        });
        expect(seconds).toBeCloseTo(1, 1);
        expect(refused.filter((text) => text.includes("Content Security Policy"))).toEqual([]);
        const pdf = await page.pdf({ format: "A4" });
        expect(pdf.toString("latin1").match(/\/Type \/Page\b(?!s)/g)?.length).toBeLessThanOrEqual(2);
      } finally {
        await browser.close();
        rmSync(folder, { recursive: true, force: true });
      }
    },
    patient,
  );
});
