// What is being played, at the foot of the page: which bout of how many, what was passed over, and the ways on. What is
// played can be tied to a thing to do from here.

import type { FromBrief, ToBrief } from "../../messages/brief";
import { element, setText } from "../dom";

type Playing = Extract<ToBrief, { type: "playing" }>["now"];

export class PlayingBar {
  readonly element = element("section", { class: "playing", "aria-label": "What is being played" });
  readonly #title = element("p", { class: "title" });
  readonly #place = element("p", { role: "status" });
  readonly #notes = element("ul", { class: "key" });
  readonly #buttons: Readonly<Record<"previous" | "next" | "stop", HTMLButtonElement>>;
  readonly #ties: readonly HTMLButtonElement[];

  constructor(post: (message: FromBrief) => void) {
    const button = (words: string, message: FromBrief) => {
      const made = element("button", { type: "button", class: "plain" }, words);
      made.addEventListener("click", () => post(message));
      return made;
    };
    this.#buttons = {
      previous: button("Previous bout", { type: "walk", go: "previous" }),
      next: button("Next bout", { type: "walk", go: "next" }),
      stop: button("Stop", { type: "walk", go: "stop" }),
    };
    this.#ties = [0, 1, 2].map((thing) => button(`Tie to ${thing + 1}`, { type: "tie", thing }));
    const { previous, next, stop } = this.#buttons;
    this.element.append(
      element("div", {}, this.#title, this.#place, this.#notes),
      element("div", { class: "ways" }, previous, next, stop, ...this.#ties),
    );
    this.element.hidden = true;
  }

  show(now: Playing): void {
    const hadFocus = this.element.contains(document.activeElement);
    this.element.hidden = now === null;
    if (now === null) return;
    setText(this.#title, `Playing: ${now.title}`);
    setText(this.#place, now.place);
    this.#notes.replaceChildren(...now.notes.map((note) => element("li", {}, note)));
    this.#notes.hidden = now.notes.length === 0;
    const { previous, next, stop } = this.#buttons;
    previous.disabled = !now.previous;
    next.disabled = !now.next;
    setText(stop, now.over ? "Close" : "Stop");
    // A button that can't be pressed any more would drop the focus.
    if (hadFocus && document.activeElement instanceof HTMLButtonElement && document.activeElement.disabled)
      stop.focus();
  }
}
