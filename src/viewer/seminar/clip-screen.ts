// One clip: shown, asked about, closed. As live the clip comes once and the time runs from its end; at the monitor it may
// come again and be slowed or held. Enter leads from question to question and, after the last, to the next clip.

import type { PackClip } from "../../figures/seminar-pack";
import type { Terms } from "../../pages/seminar-terms";
import { element, fill, setText } from "../dom";
import type { Asked } from "./choice";
import { countdown, type Countdown } from "./countdown";
import { questionsFor } from "./questions";
import type { Session } from "./session";
import { speeds, Stage } from "./stage";

export class ClipScreen {
  readonly element: HTMLElement;
  readonly #session: Session;
  readonly #clip: PackClip;
  readonly #done: (timeUp: boolean) => void;
  readonly #stage: Stage;
  readonly #head = element("div", { class: "clip-head" });
  readonly #controls = element("div", { class: "controls" });
  readonly #form = element("div", { class: "questions" });
  readonly #time = element("p", { class: "time" });
  /** Said to screen readers, and seldom: what everybody sees stands elsewhere, but for a clip that can't be shown. */
  readonly #news = element("p", { class: "news unseen", role: "status" });
  #terms: Terms;
  #asked: readonly Asked[] = [];
  #next: HTMLButtonElement | undefined;
  #speed = 1;
  #broken = false;
  #countdown: Countdown | undefined;
  #firstEnd: number | undefined;
  #closed = false;

  constructor(session: Session, clip: PackClip, terms: Terms, done: (timeUp: boolean) => void) {
    this.#session = session;
    this.#clip = clip;
    this.#terms = terms;
    this.#done = done;
    this.#stage = new Stage(clip.file, {
      live: session.live,
      onEnd: () => this.#ended(),
      onBroken: () => this.#isBroken(),
    });
    this.element = element(
      "section",
      { class: "clip" },
      this.#head,
      this.#stage.element,
      this.#controls,
      this.#time,
      this.#news,
      this.#form,
    );
    this.element.addEventListener("keydown", (event) => this.#key(event));
    this.show(terms);
    // Shown before the page was closed: it goes on with the questions.
    if (this.#begun) this.#ended();
  }

  get #begun(): boolean {
    return (this.#session.item(this.#clip.id)?.showings ?? 0) > 0;
  }

  /** Puts all words in this language; what runs goes on. */
  show(terms: Terms): void {
    this.#terms = terms;
    const { said } = terms;
    const { place, clips } = this.#session;
    fill(
      this.#head,
      element("h1", { tabindex: "-1" }, `${said.clip} ${place + 1} ${said.of} ${clips.length}`),
    );
    this.#stage.describe(`${said.clip} ${place + 1}`, this.#begun ? said.frozen : said.ready);
    this.#showControls();
    if (this.#form.childElementCount > 0) this.#ask();
  }

  focus(): void {
    const first = this.element.querySelector<HTMLElement>(".controls button");
    if (this.#form.childElementCount > 0) this.#asked[0]?.focus();
    else first?.focus();
  }

  /** Leaves nothing running. */
  end(): void {
    this.#closed = true;
    this.#countdown?.stop();
    this.#stage.stop();
  }

  #showControls(): void {
    const { said } = this.#terms;
    const session = this.#session;
    const left = session.showingsLeft(this.#clip);
    const parts: HTMLElement[] = [];
    const button = (text: string, key: string, act: () => void, enabled = true) => {
      const made = element(
        "button",
        { type: "button", disabled: !enabled },
        element("span", {}, text),
        element("kbd", { "aria-hidden": "true" }, key),
      );
      made.addEventListener("click", act);
      parts.push(made);
    };
    if (!this.#begun) button(said.show, "P", () => void this.#play());
    else if (!session.live) {
      if (this.#stage.running) {
        button(this.#stage.paused ? said.resume : said.pause, "P", () => this.#toggle());
        button(said.frame, ".", () => this.#step());
      } else button(said.showAgain, "P", () => void this.#play(), left > 0);
    }
    if (!session.live) {
      const speed = element(
        "select",
        {},
        ...speeds.map((one) => element("option", { value: one, selected: one === this.#speed }, `${one}×`)),
      );
      speed.addEventListener("change", () => {
        this.#speed = Number(speed.value);
        this.#stage.speed = this.#speed;
      });
      parts.push(element("label", {}, `${said.speed} `, speed));
      parts.push(element("p", {}, `${left} ${said.shown}`));
    }
    const focused = this.#controls.contains(document.activeElement);
    fill(this.#controls, ...parts);
    if (focused) this.#controls.querySelector<HTMLElement>("button:not(:disabled), select")?.focus();
  }

  async #play(): Promise<void> {
    if (this.#stage.running || this.#session.showingsLeft(this.#clip) <= 0) return;
    const played = await this.#stage.show(this.#session.live ? 1 : this.#speed);
    if (this.#closed) return;
    if (!played) {
      this.#isBroken();
      return;
    }
    this.#session.shown(this.#clip);
    this.#stage.describe(this.#head.textContent, this.#terms.said.frozen);
    this.#showControls();
  }
  #toggle(): void {
    this.#stage.toggle();
    this.#showControls();
  }
  #step(): void {
    this.#stage.step();
    this.#showControls();
  }

  #ended(): void {
    const first = this.#firstEnd === undefined;
    this.#firstEnd ??= performance.now();
    this.#showControls();
    if (!first) return;
    this.#ask();
    this.#asked[0]?.focus();
    if (this.#session.live) this.#startTime();
  }

  #startTime(): void {
    let told = Infinity;
    const { said } = this.#terms;
    this.#countdown = countdown(this.#session.secondsLeft, (left) => {
      setText(this.#time, `${Math.ceil(left)} ${this.#terms.said.left}`);
      if (Math.ceil(left) < told) {
        told = Math.ceil(left);
        this.#session.secondsLeft = left;
        if (told === 10 || told === 5) setText(this.#news, `${told} ${said.left}`);
      }
      if (left === 0) this.#close(true);
    });
  }

  #ask(): void {
    const { said } = this.#terms;
    const focused = this.#asked.findIndex(({ element: part }) => part.contains(document.activeElement));
    this.#asked = questionsFor(this.#session.answerTo(this.#clip), this.#terms, (answer) =>
      this.#session.answer(this.#clip, answer),
    );
    this.#next = element(
      "button",
      { type: "button", class: "main" },
      element("span", {}, said.next),
      element("kbd", { "aria-hidden": "true" }, "Enter"),
    );
    this.#next.addEventListener("click", () => this.#close(false));
    fill(this.#form, ...this.#asked.map(({ element: part }) => part), this.#next);
    if (focused >= 0) this.#asked[focused]?.focus();
  }

  #close(timeUp: boolean): void {
    if (this.#closed) return;
    const seconds =
      this.#session.live && !this.#broken
        ? this.#session.pack.answerSeconds - this.#session.secondsLeft
        : (performance.now() - (this.#firstEnd ?? performance.now())) / 1000;
    this.end();
    this.#session.close(this.#clip, Math.max(0, seconds));
    this.#done(timeUp);
  }

  #isBroken(): void {
    if (this.#closed || this.#broken) return;
    this.#broken = true;
    const { said } = this.#terms;
    const next = element("button", { type: "button", class: "main" }, said.next);
    next.addEventListener("click", () => this.#close(false));
    this.#countdown?.stop();
    this.#news.classList.remove("unseen");
    setText(this.#news, said.cantPlay);
    fill(this.#form, next);
    fill(this.#controls);
    next.focus();
  }

  #key(event: KeyboardEvent): void {
    if (event.ctrlKey || event.metaKey || event.altKey || this.#closed) return;
    if (event.target instanceof HTMLSelectElement) return;
    const onButton = event.target instanceof HTMLButtonElement;
    if (event.code === "Enter" && onButton) return;
    const asked = this.#asked.find(({ element: part }) => part.contains(document.activeElement));
    if (asked?.key(event) === true || this.#movement(event, asked)) {
      event.preventDefault();
      event.stopPropagation();
    }
  }

  #movement({ code }: KeyboardEvent, asked: Asked | undefined): boolean {
    switch (code) {
      case "Enter":
      case "NumpadEnter": {
        if (asked === undefined) return false;
        const next = this.#asked[this.#asked.indexOf(asked) + 1];
        if (next === undefined) this.#next?.focus();
        else next.focus();
        return true;
      }
      case "KeyP":
        if (this.#stage.running) this.#toggle();
        else void this.#play();
        return true;
      case "Period":
        this.#step();
        return true;
      default:
        return false;
    }
  }
}
