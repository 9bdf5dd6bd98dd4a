// The page inside the panel. It is replaced as a whole after an edit; scroll, focus and what was unfolded stay, also
// across the page of a text that can't be read for a moment.

import type { FromSheet } from "../messages/sheet";

export type EvidenceAsked = Omit<Extract<FromSheet, { type: "evidence" }>, "type">;

/** What the page asks of the host. */
export interface Asks {
  readonly evidence: (evidence: EvidenceAsked) => void;
  readonly meaning: (section: string) => void;
  readonly line: (line: number, column: number) => void;
  readonly save: () => void;
  /** The sections now unfolded. */
  readonly sections: (open: string[]) => void;
}

export class SheetPage {
  readonly #content: HTMLElement;
  readonly #ask: Asks;
  #version = 0;
  #html = "";
  /** A page that came while a mouse button was down: shown after the click, which would otherwise be lost. */
  #waiting: { readonly version: number; readonly html: string } | undefined;
  #pressed = false;
  readonly #unfolded = new Set<string>();
  /** Sections the page came with, or the reader has told the host of. */
  #open: readonly string[] = [];
  /** The figure that had the focus and is not on the page, or waits for the panel to have the focus. */
  #focus: string | undefined;
  /** How far down the reader was, where the page is too short to go there. */
  #scroll: number | undefined;

  constructor(content: HTMLElement, ask: Asks) {
    this.#content = content;
    this.#ask = ask;
    content.addEventListener("click", ({ target }) => {
      const figure = target instanceof Element ? target.closest(asking) : null;
      if (figure !== null) this.#askFor(figure);
    });
    // Unlike most events this one does not rise from the element it happens to.
    content.addEventListener("toggle", ({ target }) => this.#toggled(target), { capture: true });
    content.addEventListener("pointerdown", () => (this.#pressed = true));
    // The click comes after the release of the button.
    addEventListener("pointerup", () => setTimeout(() => this.#released()));
    addEventListener("pointercancel", () => this.#released());
    addEventListener("focus", () => this.#giveFocus());
  }

  show(version: number, html: string): void {
    if (this.#pressed) {
      this.#waiting = { version, html };
      return;
    }
    this.#version = version;
    if (html === this.#html) return;
    this.#remember();
    this.#html = html;
    this.#content.innerHTML = html;
    for (const one of this.#content.querySelectorAll("details"))
      if (one.dataset["section"] === undefined) one.open = this.#unfolded.has(one.dataset["key"] ?? "");
    this.#open = this.#openSections();
    this.#giveFocus();
    const wanted = this.#scroll ?? 0;
    scrollTo(scrollX, wanted);
    if (scrollY >= Math.floor(wanted)) this.#scroll = undefined;
  }

  /** Asks for the evidence of the figure of this name; false where the page has none. */
  ask(key: string): boolean {
    const figure = this.#find("[data-entries]", key);
    if (figure === undefined) return false;
    this.#askFor(figure);
    return true;
  }

  #toggled(target: EventTarget | null): void {
    if (!(target instanceof HTMLDetailsElement) || target.dataset["section"] === undefined) return;
    const open = this.#openSections();
    if (open.join() === this.#open.join()) return;
    this.#open = open;
    this.#ask.sections(open);
  }

  #openSections(): string[] {
    return Array.from(
      this.#content.querySelectorAll<HTMLDetailsElement>("details[data-section][open]"),
      ({ dataset }) => dataset["section"] ?? "",
    );
  }

  #askFor(figure: Element): void {
    const asked = datasetOf(figure);
    if (asked["meaning"] !== undefined) this.#ask.meaning(asked["meaning"]);
    else if (asked["line"] !== undefined) this.#ask.line(Number(asked["line"]), Number(asked["column"] ?? 1));
    else if (asked["save"] !== undefined) this.#ask.save();
    else this.#askForEvidence(figure);
  }

  #askForEvidence(figure: Element): void {
    const {
      key = "",
      entries = "",
      title = figure.querySelector("title")?.textContent ?? "",
      of,
    } = datasetOf(figure);
    this.#ask.evidence({
      ...{ key, title, entries: entries.split(",").map(Number), version: this.#version },
      ...(of === "first" || of === "second" ? { of } : {}),
    });
  }

  #released(): void {
    this.#pressed = false;
    const waiting = this.#waiting;
    this.#waiting = undefined;
    if (waiting !== undefined) this.show(waiting.version, waiting.html);
  }

  #remember(): void {
    this.#scroll ??= scrollY;
    this.#focus = keyOf(document.activeElement) ?? this.#focus;
    for (const one of this.#content.querySelectorAll("details")) {
      const key = one.dataset["key"] ?? "";
      if (one.open) this.#unfolded.add(key);
      else this.#unfolded.delete(key);
    }
  }

  /** Only while the panel has the focus: taking it would pull the reader out of the text. */
  #giveFocus(): void {
    if (this.#focus === undefined || !document.hasFocus() || document.activeElement !== document.body) return;
    const figure = this.#find("button, summary", this.#focus);
    if (figure === undefined) return;
    this.#focus = undefined;
    figure.focus({ preventScroll: true });
  }

  #find(selector: string, key: string): HTMLElement | undefined {
    return Array.from(this.#content.querySelectorAll<HTMLElement>(selector)).find(
      (one) => keyOf(one) === key,
    );
  }
}

/** What a click on the page asks something of the host with. */
const asking = "[data-entries], [data-meaning], [data-line], [data-save]";

function datasetOf(element: Element): DOMStringMap {
  return element instanceof HTMLElement || element instanceof SVGElement ? element.dataset : {};
}

/** The name of a figure; a summary goes by that of what it unfolds. */
function keyOf(element: Element | null): string | undefined {
  if (element === null) return undefined;
  return (
    datasetOf(element)["key"] ?? (element.tagName === "SUMMARY" ? keyOf(element.parentElement) : undefined)
  );
}
