// The panel with a brief: shows the page the host makes of many bouts, keeps the reader's place and what is being written
// when it is made again, and asks the host to play the phrases behind a figure.

import type { FigureAsked, ToBrief } from "../../messages/brief";
import { element, setText } from "../dom";
import { datasetOf, HostPage } from "../host-page";
import { openBriefLink } from "./link";
import { PlayingBar } from "./playing-bar";
import { Thing, type Draft } from "./thing";

const place = document.getElementById("brief");
if (place === null) throw new Error("the panel's document has no place for the brief");

const link = openBriefLink();
const [top, rest] = [element("div"), element("div")];
const planProblem = element("p", { class: "answer", role: "status" });
const planFile = element("p", { class: "key" });
const said = element("p", { class: "key", role: "status" });
const reading = element("p", { role: "status" });
const bar = new PlayingBar((message) => link.post(message));

const pages = [top, rest].map((part) => new HostPage(part, { pressed, folded: keepFolds }));
const [topPage, restPage] = pages as [HostPage, HostPage];
restPage.unfold(link.kept.unfolded);

const drafts: (Draft | null)[] = [0, 1, 2].map((at) => link.kept.drafts[at] ?? null);
const things = drafts.map(
  (draft, at) =>
    new Thing(at + 1, draft, {
      typed: (words, base) => link.post({ type: "words", thing: at, words, base, ...offerOf(at) }),
      draft: (now) => {
        drafts[at] = now;
        link.keep({ drafts });
      },
      pressed,
    }),
);

const stop = element("button", { type: "button", class: "plain" }, "Stop");
stop.addEventListener("click", () => link.post({ type: "stop reading" }));
const readingBar = element("section", { class: "playing", "aria-label": "Bout files are being read" });
readingBar.append(reading, element("div", { class: "ways" }, stop));
readingBar.hidden = true;

const openPlan = element("button", { type: "button", class: "meaning" }, "Open it as a text");
openPlan.addEventListener("click", () => link.post({ type: "open plan" }));
const plan = element(
  "section",
  { class: "sheet brief plan-panel", "aria-labelledby": "plan-title" },
  element("h2", { id: "plan-title" }, "Plan: three things to do"),
  planProblem,
  element("ol", { class: "things" }, ...things.map((thing) => thing.element)),
  planFile,
);
plan.hidden = true;
place.append(top, plan, rest, element("div", { class: "foot" }, said, readingBar, bar.element));

let file = "";
let restored = false;

link.listen((message) => {
  switch (message.type) {
    case "page":
      showPage(message);
      break;
    case "reading":
      readingBar.hidden = false;
      setText(reading, `Reading ${message.done} of ${message.of} bout files…`);
      break;
    case "plan":
      showPlan(message);
      break;
    case "kept":
      things[message.thing]?.kept(message.words, file);
      break;
    case "not kept":
      if (message.theirs !== null) things[message.thing]?.clash(message.theirs);
      else things[message.thing]?.notKept(message.why);
      break;
    case "playing":
      setText(said, "");
      bar.show(message.now);
      break;
    case "again":
      if (!pages.some((page) => page.ask(message.key)))
        setText(said, "This figure is no longer in the brief, whose bouts have changed.");
      break;
    case "say":
      setText(said, message.message);
      break;
  }
});

let made = 0;

function showPage({
  made: number,
  top: above,
  rest: below,
  subject,
  plan: hasPlan,
}: ToBrief & { type: "page" }) {
  made = number;
  readingBar.hidden = true;
  link.keep({ subject });
  topPage.show(number, above);
  plan.hidden = !hasPlan;
  restPage.show(number, below);
}

function showPlan(message: Extract<ToBrief, { type: "plan" }>): void {
  ({ file } = message);
  setText(planProblem, message.problem);
  planProblem.hidden = message.problem === "";
  planFile.replaceChildren(`What you write is kept in ${file}, beside the bouts. `, openPlan);
  for (const [at, { words, notes }] of message.things.entries()) things[at]?.take(words, notes, made);
  if (!restored) scrollTo(scrollX, link.kept.scroll);
  restored = true;
}

function pressed(figure: Element): void {
  const asked = datasetOf(figure);
  if (asked["save"] !== undefined) link.post({ type: "save" });
  else if (asked["do"] === "read again") link.post({ type: "read again" });
  else if (asked["untie"] !== undefined)
    link.post({ type: "untie", thing: Number(asked["thing"]), about: asked["untie"] });
  else link.post({ type: "play", figure: figureOf(figure) });
}

function figureOf(figure: Element): FigureAsked {
  const { key = "", title = "", evidence = "" } = datasetOf(figure);
  return { key, title, evidence, made };
}

/** The phrases of the suggestion beside which something is written. */
function offerOf(at: number): { readonly offer?: FigureAsked } {
  const figure = things[at]?.element.querySelector(".offer [data-evidence]");
  return figure === undefined || figure === null ? {} : { offer: figureOf(figure) };
}

function keepFolds(): void {
  link.keep({ unfolded: [...restPage.unfolded] });
}

let scrolling: ReturnType<typeof setTimeout> | undefined;
addEventListener("scroll", () => {
  if (!restored) return;
  clearTimeout(scrolling);
  scrolling = setTimeout(() => link.keep({ scroll: scrollY }), 150);
});

link.post({ type: "ready" });
