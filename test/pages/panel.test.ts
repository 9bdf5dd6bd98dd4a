import type { Page } from "playwright-core";
import { afterAll, afterEach, beforeEach, describe, expect, test } from "vitest";
import { unreadablePage } from "../../src/pages";
import type { FromSheet, ToSheet } from "../../src/messages/sheet";
import { closeBrowser, panel } from "./browser";
import { boutWith, demo, pageOf, phrases } from "./sheets";

const patient = 90_000;
const sheet = pageOf(demo());

let page: Page;
beforeEach(async () => {
  page = await panel();
}, patient);
afterEach(() => page.close());
afterAll(closeBrowser);

/** A message of the host; the files of a page are always the same here. */
type Sent = Exclude<ToSheet, { type: "page" }> | Omit<Extract<ToSheet, { type: "page" }>, "files">;

/** Sends a message as the host does and waits until the page has dealt with it. */
async function send(message: Sent): Promise<void> {
  await page.evaluate(
    async (data) => {
      window.postMessage(data, "*");
      await new Promise((done) => setTimeout(done, 30));
    },
    { files: ["file:///bouts/demo.bout.json"], ...message },
  );
}

function said(): Promise<FromSheet[]> {
  return page.evaluate(() => (window as unknown as { said: FromSheet[] }).said);
}

describe("the panel of the study sheet", () => {
  test(
    "asks for the page when it opens, and shows what it gets",
    async () => {
      expect(await said()).toEqual([{ type: "ready" }]);
      await send({ type: "page", version: 3, html: sheet });
      expect(await page.locator("h1").textContent()).toBe("Foil, category B, quarter-final (demo)");
    },
    patient,
  );

  test(
    "asks for the phrases behind a figure, with the version of the page",
    async () => {
      await send({ type: "page", version: 3, html: sheet });
      const button = page.locator('[data-key="left.attempts.attack"]');
      const entries = ((await button.getAttribute("data-entries")) ?? "").split(",").map(Number);
      await button.click();
      expect((await said()).at(-1)).toEqual({
        type: "evidence",
        key: "left.attempts.attack",
        title: "attack that scored, Vessa Tarn",
        entries,
        version: 3,
      });
      expect(entries).toHaveLength(6);
    },
    patient,
  );

  test(
    "plays what is pointed at on the chart",
    async () => {
      await send({ type: "page", version: 1, html: sheet });
      await page.locator(".chart.narrow .lane [data-entries]").first().click();
      expect((await said()).at(-1)).toMatchObject({
        type: "evidence",
        title: "yellow card, both (early start)",
      });
    },
    patient,
  );

  test(
    "asks again for a figure whose page was too old, and says so where it is gone",
    async () => {
      await send({ type: "page", version: 4, html: sheet });
      await send({ type: "again", key: "left.touches" });
      expect((await said()).at(-1)).toMatchObject({ type: "evidence", key: "left.touches", version: 4 });
      await send({ type: "again", key: "left.touchesByAction.reprise" });
      expect(await said()).toHaveLength(2);
      expect(await page.locator("#said").textContent()).toContain("no longer on the sheet");
    },
    patient,
  );

  test(
    "keeps scroll, focus and what was unfolded when the page is made again",
    async () => {
      await send({ type: "page", version: 1, html: sheet });
      await page.locator('[data-key="moves"] > summary').click();
      await page.locator('[data-key="right.attempts.riposte"]').focus();
      await page.evaluate(() => scrollTo(0, 900));
      await send({ type: "page", version: 2, html: sheet.replace("Harbour Open", "Harbour Cup") });
      expect(await page.locator(".event").textContent()).toContain("Harbour Cup");
      expect(await page.evaluate(() => scrollY)).toBe(900);
      expect(await page.locator('[data-key="moves"]').getAttribute("open")).toBe("");
      expect(await page.evaluate(() => document.activeElement?.getAttribute("data-key"))).toBe(
        "right.attempts.riposte",
      );
    },
    patient,
  );

  test(
    "keeps nothing stale of a text that can't be read, and the reader's place until it can",
    async () => {
      await send({ type: "page", version: 1, html: sheet });
      await page.locator('[data-key="right.attempts.riposte"]').focus();
      await page.evaluate(() => scrollTo(0, 900));
      await send({
        type: "page",
        version: 2,
        html: unreadablePage("demo.bout.json", [{ line: 3, message: "a comma is missing" }]),
      });
      expect(await page.locator("#sheet").textContent()).toContain("line 3: a comma is missing");
      expect(await page.locator("[data-entries], table, svg").count()).toBe(0);
      await send({ type: "page", version: 3, html: sheet });
      expect(await page.evaluate(() => scrollY)).toBe(900);
      expect(await page.evaluate(() => document.activeElement?.getAttribute("data-key"))).toBe(
        "right.attempts.riposte",
      );
    },
    patient,
  );

  test(
    "does not lose a click to a page that arrives in the middle of it",
    async () => {
      await send({ type: "page", version: 1, html: sheet });
      const button = page.locator('[data-key="left.attempts.attack"]');
      await button.hover();
      await page.mouse.down();
      await send({ type: "page", version: 2, html: pageOf(boutWith(phrases(3, {}))) });
      await page.mouse.up();
      await page.waitForFunction(() => !document.body.innerText.includes("Harbour Open"));
      expect((await said()).at(-1)).toMatchObject({
        type: "evidence",
        key: "left.attempts.attack",
        version: 1,
      });
    },
    patient,
  );

  test(
    "asks for the content of a section when it is unfolded, and remembers it for the next time",
    async () => {
      await send({ type: "page", version: 1, html: sheet });
      expect(await page.locator('[data-section="answers"] table').count()).toBe(0);
      await page.locator('[data-section="answers"] > summary').click();
      await page.waitForFunction(() => (window as unknown as { said: unknown[] }).said.length > 1);
      const open = ["score", "opened", "touches", "answers", "lamps", "reviews", "drift", "findings"];
      expect((await said()).at(-1)).toEqual({ type: "sections", open });
      const kept = await page.evaluate(() => (window as unknown as { kept: unknown }).kept);
      expect(kept).toEqual({ files: ["file:///bouts/demo.bout.json"], open });
      // The page that comes in answer unfolds nothing by itself.
      await send({ type: "page", version: 1, html: pageOf(demo(), undefined, new Set(["answers"])) });
      expect(await page.locator('[data-section="answers"] table').count()).toBe(1);
      expect(await said()).toHaveLength(2);
    },
    patient,
  );

  test(
    "every section leads to what its figures mean, and the page to a file of its own",
    async () => {
      await send({ type: "page", version: 1, html: sheet });
      await page.locator('[data-meaning="opened"]').press("Enter");
      expect((await said()).at(-1)).toEqual({ type: "meaning", section: "opened" });
      await page.locator("[data-save]").click();
      expect((await said()).at(-1)).toEqual({ type: "save" });
    },
    patient,
  );

  test(
    "a reason in the text leads to its line",
    async () => {
      const html = unreadablePage("demo.bout.json", [{ line: 3, column: 7, message: "a comma is missing" }]);
      await send({ type: "page", version: 1, html });
      await page.locator("[data-line]").click();
      expect((await said()).at(-1)).toEqual({ type: "line", line: 3, column: 7 });
    },
    patient,
  );

  test(
    "takes no notice of messages of another shape",
    async () => {
      await send({ type: "page", version: "1", html: "<b>no</b>" } as unknown as Sent);
      expect(await page.locator("#sheet").textContent()).toBe("");
    },
    patient,
  );
});
