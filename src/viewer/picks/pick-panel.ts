// Picking phrases in the viewer: the questions a phrase can answer, what is picked now, and what can be done with it.
// Folded away, it only says how many are picked. The host works out which phrases fit.

import { type Picked, type PickParts, type Preview } from "../../messages/picks";
import type { ToHost } from "../../messages/contract";
import type { Item } from "../../messages/scene";
import { element, fill, setText } from "../dom";
import type { HeldScene } from "../held-scene";
import { ClipsPreview } from "./clips-preview";
import {
  answersOf,
  countAndLength,
  neighbourPicked,
  pickQuestions,
  withAnswer,
  type PickQuestion,
} from "./pick-choices";

export interface PickPanelEvents {
  post(message: ToHost): void;
  /** Runs a command of the table. */
  command(id: string): void;
  go(at: number): void;
  /** Where the playhead is. */
  at(): number;
  play(title: string, phrases: readonly Item[]): void;
  say(severity: "error" | "note", message: string): void;
  /** Other phrases are picked. */
  changed(): void;
}

export class PickPanel {
  readonly #events: PickPanelEvents;
  readonly #count = element("span", { class: "count" });
  readonly #told = element("p", { class: "told" });
  readonly #lost = element("ul", { class: "lost", hidden: true });
  readonly #questions = element("div", {
    class: "questions",
    role: "group",
    "aria-label": "Pick the phrases that are",
  });
  readonly #spoken = element("p", { class: "spoken", role: "status" });
  readonly #buttons: readonly HTMLButtonElement[];
  readonly #preview: ClipsPreview;
  readonly element: HTMLDetailsElement;
  #scene: HeldScene | undefined;
  #picked: Picked | undefined;
  #items: readonly Item[] = [];
  #entries: ReadonlySet<number> = new Set();
  #asked = "";

  constructor(events: PickPanelEvents) {
    this.#events = events;
    const button = (words: string, does: () => void) => {
      const made = element("button", { type: "button" }, words);
      made.addEventListener("click", does);
      return made;
    };
    const needPicked = [
      button("Previous picked", () => this.toNeighbour(-1)),
      button("Next picked", () => this.toNeighbour(1)),
      button("Play picked", () => this.play()),
      button("Pick none", () => this.#ask({})),
      button("Save…", () => this.#events.command("boutline.savePick")),
      button("Cut training clips…", () => this.#events.command("boutline.cutClips")),
      button("Make a reel…", () => this.#events.command("boutline.makeReel")),
    ];
    this.#buttons = needPicked;
    this.#preview = new ClipsPreview({
      ask: (what, cutting) => events.post({ type: "clips", do: what, cutting }),
      go: (at) => events.go(at),
    });
    this.element = element(
      "details",
      { class: "picks" },
      element("summary", {}, "Pick phrases ", this.#count),
      this.#questions,
      this.#told,
      this.#lost,
      element(
        "div",
        { class: "row", role: "group", "aria-label": "Picked phrases" },
        ...needPicked,
        button("Saved picks…", () => this.#events.command("boutline.openPick")),
      ),
      this.#preview.element,
      this.#spoken,
    );
    this.element.addEventListener("toggle", () => {
      this.#showQuestions();
    });
    this.#showCount();
  }

  /** Places in the log of the picked phrases. */
  get entries(): ReadonlySet<number> {
    return this.#entries;
  }

  /** Takes another version of the bout; what is picked in it comes from the host. */
  show(scene: HeldScene): void {
    this.#scene = scene;
    this.#takeItems();
    this.#showQuestions();
  }

  take(picked: Picked): void {
    const before = this.#picked?.words;
    this.#picked = picked;
    if (picked.open) this.element.open = true;
    this.#takeItems();
    this.#showQuestions();
    this.#showCount();
    this.#preview.forget();
    if (before !== undefined || picked.words !== "")
      setText(
        this.#spoken,
        picked.words === ""
          ? "No phrase is picked."
          : `Picked: ${countAndLength(this.#items)}. ${picked.words}`,
      );
  }

  showPreview(preview: Preview): void {
    this.element.open = true;
    const told = this.#preview.show(preview);
    // Emptied first, so that the same is read out again when it is asked for again.
    setText(this.#spoken, "");
    requestAnimationFrame(() => setText(this.#spoken, told));
  }

  /** Picks the phrase by hand, or leaves it out. */
  pickByHand(phrase: Item | undefined): void {
    if (phrase?.kind !== "phrase") this.#events.say("error", "No phrase has begun before this frame.");
    else this.#events.post({ type: "pick by hand", version: this.#scene?.version ?? 0, index: phrase.index });
  }

  toNeighbour(direction: -1 | 1): void {
    const next = neighbourPicked(this.#items, this.#events.at(), direction);
    if (this.#items.length === 0) this.#events.say("note", "No phrase is picked.");
    else if (next === undefined)
      this.#events.say("note", `No phrase is picked ${direction > 0 ? "after" : "before"} this one.`);
    else this.#events.go(next.at);
  }

  play(): void {
    if (this.#items.length === 0) this.#events.say("note", "No phrase is picked.");
    else this.#events.play(this.#picked?.words ?? "", this.#items);
  }

  #takeItems(): void {
    const { entries } = this.#picked ?? { entries: [] };
    const before = [...this.#entries].join();
    this.#entries = new Set(entries);
    this.#items = (this.#scene?.items ?? [])
      .filter(({ index, kind }) => kind === "phrase" && this.#entries.has(index))
      .toSorted((one, other) => one.at - other.at);
    if ([...this.#entries].join() !== before) this.#events.changed();
  }

  #showCount(): void {
    const { words = "", saved = "", lost = [] } = this.#picked ?? {};
    const any = words !== "";
    const name = saved === "" ? "" : `“${saved}”: `;
    setText(this.#count, any ? `${name}${countAndLength(this.#items)}` : "");
    setText(
      this.#told,
      any
        ? `${name}${words}: ${countAndLength(this.#items)}.`
        : "No phrase is picked. Choose above, or pick phrases in the phrase line: Ctrl+click, or Enter on the line.",
    );
    this.#lost.hidden = lost.length === 0;
    fill(this.#lost, ...lost.map((one) => element("li", {}, `Lost: ${one}`)));
    for (const button of this.#buttons) button.disabled = !any;
  }

  #showQuestions(): void {
    const scene = this.#scene;
    if (!this.element.open || scene === undefined) return;
    const pick = this.#picked?.pick ?? {};
    const questions = pickQuestions(scene.head, scene.items, pick);
    const key = JSON.stringify([questions, pick]);
    if (key === this.#asked) return;
    this.#asked = key;
    const focused =
      document.activeElement instanceof HTMLElement ? document.activeElement.dataset["part"] : undefined;
    fill(this.#questions, ...questions.map((question) => this.#question(question, pick)));
    if (focused !== undefined)
      this.#questions.querySelector<HTMLElement>(`select[data-part="${focused}"]`)?.focus();
  }

  #question(question: PickQuestion, pick: PickParts): HTMLElement {
    const { part, words, none, choices, several } = question;
    const answers = answersOf(pick, part);
    const open = several ? choices.filter(({ value }) => !answers.includes(value)) : choices;
    const select = element(
      "select",
      { "data-part": part, "aria-label": words },
      element("option", { value: "" }, several && answers.length > 0 ? "or…" : none),
      ...open.map((choice) => element("option", { value: String(choices.indexOf(choice)) }, choice.words)),
    );
    const [only] = answers;
    if (!several && only !== undefined)
      select.value = String(choices.findIndex(({ value }) => value === only));
    select.addEventListener("change", () => {
      const choice = choices[Number(select.value)];
      if (select.value !== "" && choice !== undefined)
        this.#ask(withAnswer(pick, question, choice.value, true));
      else if (!several && only !== undefined) this.#ask(withAnswer(pick, question, only, false));
    });
    const chosen = several
      ? answers.map((value) => {
          const says = choices.find((choice) => choice.value === value)?.words ?? String(value);
          const remove = element(
            "button",
            { type: "button", "data-part": part, "aria-label": `Leave out: ${words} ${says}` },
            says,
            " ✕",
          );
          remove.addEventListener("click", () => {
            this.#ask(withAnswer(pick, question, value, false));
          });
          return remove;
        })
      : [];
    return element(
      "div",
      { class: answers.length > 0 ? "question answered" : "question" },
      element("span", { "aria-hidden": "true" }, words),
      element("div", { class: "chosen" }, ...chosen, select),
    );
  }

  #ask(pick: PickParts): void {
    this.#events.post({ type: "pick", pick });
  }
}
