// A page the host has made, inside a panel. It is replaced as a whole when it is made again; scroll, focus and what was
// unfolded stay, also across the page of a text that can't be read for a moment.

/** What the page asks of the host. */
export interface Asks {
  /** Something was pressed: the figure's data. `version` is that of the page. */
  readonly pressed: (figure: Element, version: number) => void;
  /** A section whose content the host makes was folded or unfolded: those that are open now. */
  readonly sections?: (open: string[]) => void;
  /** Something else was. */
  readonly folded?: () => void;
}

export class HostPage {
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
      if (figure !== null) this.#ask.pressed(figure, this.#version);
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

  /** Asks for the figure of this name as if it were pressed; false where the page has none. */
  ask(key: string): boolean {
    const figure = this.#find(playing, key);
    if (figure === undefined) return false;
    this.#ask.pressed(figure, this.#version);
    return true;
  }

  /** Names of the parts that are unfolded and were on the page from the beginning. */
  get unfolded(): readonly string[] {
    this.#rememberFolds();
    return [...this.#unfolded];
  }

  /** Unfolds these when they are next shown. */
  unfold(keys: readonly string[]): void {
    for (const key of keys) this.#unfolded.add(key);
  }

  #toggled(target: EventTarget | null): void {
    if (!(target instanceof HTMLDetailsElement)) return;
    if (target.dataset["section"] === undefined) {
      this.#ask.folded?.();
      return;
    }
    const open = this.#openSections();
    if (open.join() === this.#open.join()) return;
    this.#open = open;
    this.#ask.sections?.(open);
  }

  #openSections(): string[] {
    return Array.from(
      this.#content.querySelectorAll<HTMLDetailsElement>("details[data-section][open]"),
      ({ dataset }) => dataset["section"] ?? "",
    );
  }

  #released(): void {
    this.#pressed = false;
    const waiting = this.#waiting;
    this.#waiting = undefined;
    if (waiting !== undefined) this.show(waiting.version, waiting.html);
  }

  #remember(): void {
    this.#scroll ??= scrollY;
    if (this.#content.contains(document.activeElement))
      this.#focus = keyOf(document.activeElement) ?? this.#focus;
    this.#rememberFolds();
  }

  #rememberFolds(): void {
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

/** What plays its evidence: of one bout, or of many. */
const playing = "[data-entries], [data-evidence]";
/** What a click on the page asks something of the host with. */
const asking = `${playing}, [data-meaning], [data-line], [data-save], [data-untie], [data-do]`;

export function datasetOf(element: Element): DOMStringMap {
  return element instanceof HTMLElement || element instanceof SVGElement ? element.dataset : {};
}

/** The name of a figure; a summary goes by that of what it unfolds. */
function keyOf(element: Element | null): string | undefined {
  if (element === null) return undefined;
  return (
    datasetOf(element)["key"] ?? (element.tagName === "SUMMARY" ? keyOf(element.parentElement) : undefined)
  );
}
