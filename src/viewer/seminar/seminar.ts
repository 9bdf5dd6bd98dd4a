// The page of a seminar pack, opened from a disk in any browser: who answers, clip after clip, and the file of answers.

import * as z from "zod";
import type { UncheckedAnswers } from "../../figures/seminar-format";
import type { PackClip, SeminarPack } from "../../figures/seminar-pack";
import { seminarTerms, type Language } from "../../pages/seminar-terms";
import { element, fill } from "../dom";
import { ClipScreen } from "./clip-screen";
import { betweenScreen, finishScreen, saveToFile } from "./end-screens";
import { keepingFor } from "./keeping";
import { Session } from "./session";
import { startScreen, type Filled } from "./start-screen";

// The page's content policy forbids code made from text.
z.config({ jitless: true });

const page = document.getElementById("page");
const told = document.getElementById("pack")?.textContent;
if (page !== null && told !== undefined) open(page, JSON.parse(told) as SeminarPack);

function open(main: HTMLElement, pack: SeminarPack): void {
  const keeping = keepingFor(pack.pack);
  const filled: Filled = { name: "", reference: false, role: "", way: pack.ways[0] ?? "live" };
  let language: Language = navigator.language.startsWith("fr") ? "fr" : "en";
  let session: Session | undefined;
  /** Draws what is shown now once more. */
  let again = () => {};

  const bar = element("div", { class: "bar" });
  const body = element("div");
  const terms = () => seminarTerms[language];
  fill(main, bar, body);

  const showBar = () => {
    const { said } = terms();
    document.documentElement.lang = language;
    document
      .querySelector("footer")
      ?.replaceChildren(...terms().caution.map((line) => element("p", {}, line)));
    const other = element("button", { type: "button", lang: language === "en" ? "fr" : "en" }, said.language);
    other.addEventListener("click", () => {
      language = language === "en" ? "fr" : "en";
      showBar();
      again();
      bar.querySelector("button")?.focus();
    });
    const parts = [other];
    if (session !== undefined && session.place < session.clips.length) {
      const save = element("button", { type: "button" }, said.saveSoFar);
      save.addEventListener("click", () => {
        if (session !== undefined) saveToFile(session.answers);
      });
      parts.push(save);
    }
    fill(bar, ...parts);
  };
  const draw = (build: () => HTMLElement) => {
    again = () => fill(body, build());
    again();
    showBar();
    body.querySelector<HTMLElement>("h1")?.focus();
  };

  const start = () =>
    draw(() =>
      startScreen(pack, keeping, filled, terms(), (answers: UncheckedAnswers) => {
        session = new Session(pack, keeping, answers);
        next(session);
      }),
    );
  const next = (running: Session) => {
    const clip = running.clips[running.place];
    if (clip === undefined) {
      draw(() => finishScreen(running, terms()));
      return;
    }
    const screen = new ClipScreen(running, clip, terms(), (timeUp) => after(running, clip, timeUp));
    fill(body, screen.element);
    again = () => screen.show(terms());
    showBar();
    screen.focus();
  };
  const after = (running: Session, clip: PackClip, timeUp: boolean) => {
    const revealed = running.answers.role === undefined ? pack.revealed : undefined;
    if (revealed === undefined && !timeUp) {
      next(running);
      return;
    }
    const right = revealed === undefined ? undefined : (revealed[clip.id] ?? null);
    draw(() => betweenScreen(terms(), { timeUp, said: running.answerTo(clip), right }, () => next(running)));
    body.querySelector<HTMLElement>("button.main")?.focus();
  };

  start();
}
