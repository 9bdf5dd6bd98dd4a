// What will be cut: every clip with its start and length, what stands against it, and how clips are cut. Nothing is
// written before the button below is pressed and a folder chosen.

import { formatTime, type Milliseconds } from "../../bout/time";
import { usualCutting, type Cutting, type Preview } from "../../messages/picks";
import { element, fill, setText } from "../dom";
import { lengthSaid } from "./pick-choices";

export interface ClipsPreviewEvents {
  ask(what: "preview" | "preview reel" | "cut" | "reel", cutting: Cutting): void;
  go(at: number): void;
}

export class ClipsPreview {
  readonly element: HTMLElement;
  readonly #events: ClipsPreviewEvents;
  readonly #seconds = { leadIn: seconds("leadIn"), tail: seconds("tail") };
  readonly #ticks = { slowRepeat: tick("slowRepeat"), captions: tick("captions"), burnIn: tick("burnIn") };
  readonly #total = element("p", { class: "total" });
  readonly #notes = element("ul", { class: "notes" });
  readonly #rows = element("tbody");
  readonly #title = element("h3");
  readonly #cut: { readonly clips: HTMLButtonElement; readonly reel: HTMLButtonElement };
  readonly #captions: HTMLElement;
  /** Whether one file of them all is meant. */
  #reel = false;
  /** Whether what comes next was asked for in here, where the user is looking already. */
  #asked = false;

  constructor(events: ClipsPreviewEvents) {
    this.#events = events;
    const doing = (words: string, what: "cut" | "reel") => {
      const button = element("button", { type: "button" }, words);
      button.addEventListener("click", () => {
        this.#ask(what);
      });
      return button;
    };
    this.#cut = { clips: doing("Cut each as a clip…", "cut"), reel: doing("Make one reel…", "reel") };
    const close = element("button", { type: "button" }, "Close the preview");
    close.addEventListener("click", () => {
      this.forget();
    });
    const option = (words: string, input: HTMLInputElement, after = "") =>
      element(
        "label",
        { class: "option" },
        input.type === "checkbox" && input,
        element("span", {}, words),
        input.type !== "checkbox" && input,
        after,
      );
    this.#captions = option("captions of the call beside the clip", this.#ticks.captions);
    this.element = element(
      "section",
      { class: "preview", "aria-label": "What will be cut", hidden: true },
      this.#title,
      element(
        "div",
        { class: "options" },
        option("begin before “Fence!” by", this.#seconds.leadIn, "seconds"),
        option("end after “Halt!” by", this.#seconds.tail, "seconds"),
        option("the last second again, slowly", this.#ticks.slowRepeat),
        this.#captions,
        option("the call written into the picture", this.#ticks.burnIn),
      ),
      this.#total,
      this.#notes,
      element(
        "div",
        { class: "table", tabindex: 0, role: "region", "aria-label": "Clips" },
        element(
          "table",
          {},
          element(
            "thead",
            {},
            element(
              "tr",
              {},
              ...["Clip", "What it shows", "From", "Length", "Mind"].map((words) =>
                element("th", { scope: "col" }, words),
              ),
            ),
          ),
          this.#rows,
        ),
      ),
      element("div", { class: "row" }, this.#cut.clips, this.#cut.reel, close),
    );
    this.#useOptions(usualCutting);
    for (const input of [...Object.values(this.#seconds), ...Object.values(this.#ticks)])
      input.addEventListener("change", () => {
        this.#ask(this.#reel ? "preview reel" : "preview");
      });
  }

  /** What is to be read out of it. One asked for elsewhere comes into sight; the keyboard stays where it was. */
  show({ clips, length, notes, reel, possible }: Preview): string {
    this.#reel = reel;
    this.element.hidden = false;
    setText(this.#title, reel ? "What the reel will hold" : "What will be cut");
    this.element.setAttribute("aria-label", this.#title.textContent);
    this.#cut.clips.hidden = reel;
    this.#cut.reel.hidden = !reel;
    // Nothing lies beside a reel.
    this.#captions.hidden = reel;
    const many = `${clips.length} ${clips.length === 1 ? "clip" : "clips"}`;
    const all = reel ? `One reel of ${many}` : many;
    setText(this.#total, possible ? `${all}, ${lengthSaid(length)} in all.` : "Nothing can be cut.");
    fill(this.#notes, ...notes.map((note) => element("li", {}, note)));
    for (const button of Object.values(this.#cut)) button.disabled = !possible;
    fill(
      this.#rows,
      ...clips.map(({ name, says, from, to, warning }) => {
        const go = element(
          "button",
          { type: "button", title: `Show the beginning of ${name}` },
          formatTime(Math.max(0, Math.round(from)) as Milliseconds),
        );
        go.addEventListener("click", () => {
          this.#events.go(from);
        });
        return element(
          "tr",
          {},
          element("th", { scope: "row" }, name),
          element("td", {}, says),
          element("td", {}, go),
          element("td", { class: "number" }, `${((to - from) / 1000).toFixed(1)} s`),
          element("td", {}, warning),
        );
      }),
    );
    if (!this.#asked) this.element.scrollIntoView({ block: "start" });
    this.#asked = false;
    return [`${this.#title.textContent}: ${this.#total.textContent}`, ...notes].join(" ");
  }

  /** Other phrases are picked: what stands here holds no more. */
  forget(): void {
    this.element.hidden = true;
    fill(this.#rows);
  }

  #ask(what: Parameters<ClipsPreviewEvents["ask"]>[0]): void {
    this.#asked = true;
    this.#events.ask(what, this.#cutting);
  }

  get #cutting(): Cutting {
    const number = (input: HTMLInputElement, usual: number) => {
      const value = Number(input.value.replace(",", "."));
      const good = input.value.trim() !== "" && value >= 0 && value <= 60;
      if (!good) input.value = String(usual);
      return good ? value : usual;
    };
    return {
      leadIn: number(this.#seconds.leadIn, usualCutting.leadIn),
      tail: number(this.#seconds.tail, usualCutting.tail),
      slowRepeat: this.#ticks.slowRepeat.checked,
      captions: this.#ticks.captions.checked,
      burnIn: this.#ticks.burnIn.checked,
    };
  }

  #useOptions(cutting: Cutting): void {
    this.#seconds.leadIn.value = String(cutting.leadIn);
    this.#seconds.tail.value = String(cutting.tail);
    this.#ticks.slowRepeat.checked = cutting.slowRepeat;
    this.#ticks.captions.checked = cutting.captions;
    this.#ticks.burnIn.checked = cutting.burnIn;
  }
}

function seconds(name: string): HTMLInputElement {
  return element("input", { type: "text", inputmode: "decimal", name, autocomplete: "off" });
}
function tick(name: string): HTMLInputElement {
  return element("input", { type: "checkbox", name });
}
