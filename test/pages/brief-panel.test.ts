// The brief's panel with its script: what a coach types is sent on, survives a new page, and is never taken away where
// somebody else has written too.

import path from "node:path";
import { build } from "esbuild";
import type { Page } from "playwright-core";
import { afterAll, afterEach, beforeEach, describe, expect, test } from "vitest";
import { briefOf, planThings, shownPlan } from "../../src/figures/brief";
import type { FromBrief, ToBrief } from "../../src/messages/brief";
import { briefPieces, briefPlayer, planNotes } from "../../src/pages/brief";
import { season, strongOpener } from "../figures/brief/season";
import { closeBrowser, shown } from "./browser";

const made = briefOf(season(30, strongOpener, 7, 60, "elimination"), "tarn");
if (!made.ok) throw new Error(made.problem);
const brief = made.value;
const pieces = briefPieces(brief, []);
const offers = planNotes(
  brief,
  shownPlan(brief, undefined, () => undefined),
  briefPlayer(brief, "panel"),
);
const subject = { fencer: "tarn" };

let script = "";
let page: Page;
beforeEach(async () => {
  script ||= (
    await build({
      entryPoints: [path.join(import.meta.dirname, "..", "..", "src", "viewer", "brief", "brief.ts")],
      bundle: true,
      format: "iife",
      write: false,
      logLevel: "warning",
    })
  ).outputFiles[0]?.text as string;
  page = await openPanel(null);
});
afterEach(() => page.close());
afterAll(closeBrowser);

/** A panel whose page was kept as `kept` before the window was loaded again. */
async function openPanel(kept: unknown): Promise<Page> {
  const opened = await shown("", "light theme", 900);
  await opened.evaluate((before) => {
    document.body.innerHTML = '<main id="brief"></main>';
    const said: unknown[] = [];
    Object.assign(window, {
      said,
      kept: before,
      acquireVsCodeApi: () => ({
        postMessage: (message: unknown) => said.push(message),
        getState: () => (window as unknown as { kept: unknown }).kept,
        setState: (state: unknown) => Object.assign(window, { kept: state }),
      }),
    });
  }, kept);
  await opened.addScriptTag({ content: script });
  return opened;
}

async function send(...messages: ToBrief[]): Promise<void> {
  await page.evaluate(async (all) => {
    for (const message of all) window.postMessage(message, "*");
    await new Promise((done) => setTimeout(done, 30));
  }, messages);
}

function said(): Promise<FromBrief[]> {
  return page.evaluate(() => (window as unknown as { said: FromBrief[] }).said);
}

const pageMessage = (number: number, change: (html: string) => string = (html) => html): ToBrief => ({
  type: "page",
  made: number,
  top: change(pieces.top),
  rest: pieces.rest,
  subject,
  plan: true,
});
const planMessage = (...words: string[]): ToBrief => ({
  type: "plan",
  file: "tarn.plan.json",
  things: Array.from({ length: planThings }, (_, at) => ({
    words: words[at] ?? "",
    notes: (words[at] ?? "") === "" ? (offers[at] ?? "") : "<p>tied</p>",
  })),
  problem: "",
});

describe("the panel of a brief", () => {
  test("asks for its page and shows sentences, plan and details in this order", async () => {
    expect(await said()).toEqual([{ type: "ready" }]);
    await send(pageMessage(1), planMessage());
    expect(await page.locator("h2").allInnerTexts()).toEqual([
      "In short",
      "Plan: three things to do",
      "How touches are won and lost",
      "With which actions, and where",
      "Against whom",
      "Near the end, ahead and behind",
      "Reviews and cards",
      "Changes over time",
      "More than chance?",
      "The bouts",
      "Before you use this",
    ]);
    expect(await page.locator("details[open]").count()).toBe(0);
  });

  test("a figure asks to be played with what the page has of it", async () => {
    await send(pageMessage(4), planMessage());
    const button = page.locator('[data-key="all.for"]');
    const evidence = (await button.getAttribute("data-evidence")) ?? "";
    await button.click();
    expect((await said()).at(-1)).toEqual({
      type: "play",
      figure: { key: "all.for", title: "touches for", evidence, made: 4 },
    });
    await send({ type: "again", key: "all.for" });
    expect((await said()).at(-1)).toMatchObject({ type: "play", figure: { key: "all.for" } });
  });

  test("what is typed goes to the host with the phrases suggested, and stays through a new page", async () => {
    await send(pageMessage(1), planMessage());
    const field = page.locator("#thing-1");
    await field.pressSequentially("Wait");
    const last = (await said()).at(-1);
    expect(last).toMatchObject({ type: "words", thing: 0, words: "Wait", base: "" });
    expect(last?.type === "words" && last.offer?.title).toBe(brief.plan[0]?.about);
    await field.press("ArrowLeft");
    await page.evaluate(() => scrollTo(0, 300));
    await send(
      pageMessage(2, (html) => html.replace("30 bouts", "31 bouts")),
      planMessage(),
    );
    expect(await page.locator("header").innerText()).toContain("31 bouts");
    expect(await field.inputValue()).toBe("Wait");
    expect(await page.evaluate(() => document.activeElement?.id)).toBe("thing-1");
    expect(await field.evaluate((one: HTMLTextAreaElement) => one.selectionStart)).toBe(3);
    expect(await page.evaluate(() => scrollY)).toBe(300);
    await send({ type: "kept", thing: 0, words: "Wait" });
    expect(await page.locator(".thing .state").first().innerText()).toBe("Kept in tarn.plan.json.");
  });

  test("what somebody else wrote is shown where nothing is typed, and asked about where something is", async () => {
    await send(pageMessage(1), planMessage("theirs"));
    const field = page.locator("#thing-1");
    expect(await field.inputValue()).toBe("theirs");
    await field.fill("mine");
    await send(planMessage("theirs, changed"));
    expect(await field.inputValue()).toBe("mine");
    const choice = page.locator(".choice").first();
    expect(await choice.locator("blockquote").innerText()).toBe("theirs, changed");
    await field.pressSequentially(" too");
    const before = (await said()).length;
    await choice.getByRole("button", { name: "Keep both" }).click();
    expect(await field.inputValue()).toBe("theirs, changed\nmine too");
    expect((await said()).slice(before)).toEqual([
      { type: "words", thing: 0, words: "theirs, changed\nmine too", base: "theirs, changed" },
    ]);
    await send({ type: "not kept", thing: 0, theirs: "a third", why: "" });
    await choice.getByRole("button", { name: "Take theirs" }).click();
    expect(await field.inputValue()).toBe("a third");
    expect(await choice.isVisible()).toBe(false);
  });

  test("what was typed and not kept is there and sent again after the window was loaded again", async () => {
    await page.close();
    page = await openPanel({ subject, drafts: [null, { words: "half a thought", base: "" }] });
    await send(pageMessage(1), planMessage());
    expect(await page.locator("#thing-2").inputValue()).toBe("half a thought");
    expect((await said()).at(-1)).toMatchObject({
      type: "words",
      thing: 1,
      words: "half a thought",
      base: "",
    });
  });

  test("a draft from before the words that were kept asks nothing; one the file doesn't hold asks", async () => {
    await page.close();
    const draft = { words: "half a t", base: "" };
    page = await openPanel({ subject, drafts: [draft, draft] });
    await send(pageMessage(1), planMessage("half a thought of mine", "something else"));
    expect(await page.locator("#thing-1").inputValue()).toBe("half a thought of mine");
    expect(await page.locator("#thing-2").inputValue()).toBe("half a t");
    const asks = page.locator(".thing .choice");
    expect([await asks.nth(0).isVisible(), await asks.nth(1).isVisible()]).toEqual([false, true]);
    expect(await asks.nth(1).locator("blockquote").innerText()).toBe("something else");
  });

  test("what is being played stands at the foot, with the ways on and to tie it", async () => {
    await send(pageMessage(1), planMessage());
    const now = {
      title: "touches for",
      place: "Bout 2 of 3: bout-002, Kel Odrey, 4 phrases",
      notes: ["bout-001, Dov Quill: its recording bout-1.mp4 is not there."],
      previous: true,
      next: false,
      over: false,
    };
    await send({ type: "playing", now });
    const bar = page.getByRole("region", { name: "What is being played" });
    expect(await bar.innerText()).toContain("bout-1.mp4 is not there");
    expect(await bar.getByRole("button", { name: "Next bout" }).isDisabled()).toBe(true);
    await bar.getByRole("button", { name: "Tie to 3" }).click();
    await bar.getByRole("button", { name: "Previous bout" }).click();
    expect((await said()).slice(-2)).toEqual([
      { type: "tie", thing: 2 },
      { type: "walk", go: "previous" },
    ]);
    await send({ type: "playing", now: null });
    expect(await bar.isVisible()).toBe(false);
  });
});
