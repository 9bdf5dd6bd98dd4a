// What is wrong with the text, each problem a button that goes to its line.

import type { Head } from "../messages/scene";
import { element, fill } from "./dom";

export class Problems {
  readonly element = element("section", {
    class: "problems",
    "aria-label": "Problems in the text",
    hidden: true,
  });
  readonly #open: (line: number, column: number) => void;
  #shown = "";

  constructor(open: (line: number, column: number) => void) {
    this.#open = open;
  }

  show({ problems, readable, editable }: Head): void {
    const key = JSON.stringify([problems, readable, editable]);
    if (key === this.#shown) return;
    this.#shown = key;
    this.element.hidden = problems.length === 0 && readable && editable;
    this.element.classList.toggle("unreadable", !readable);
    const list = element(
      "ul",
      {},
      ...problems.map(({ severity, message, line, column }) => {
        const button = element(
          "button",
          { type: "button" },
          element("span", { class: "severity" }, severity),
          element("span", { class: "place" }, `line ${line}`),
          element("span", {}, message),
        );
        button.addEventListener("click", () => {
          this.#open(line, column);
        });
        return element("li", {}, button);
      }),
    );
    const heading = summary(problems.length, readable, editable);
    fill(
      this.element,
      readable && problems.length > 0
        ? element("details", {}, element("summary", {}, heading), list)
        : element("div", {}, element("h2", {}, heading), list),
    );
  }
}

function summary(count: number, readable: boolean, editable: boolean): string {
  const counted = count === 1 ? "1 problem in the text" : `${count} problems in the text`;
  if (!readable)
    return "This file can't be read as a bout. Its text must be put right first; the picture still plays.";
  if (!editable) return count === 0 ? whyNotEditable : `${whyNotEditable} ${counted}`;
  return counted;
}

/** Why the call pad is out of use. */
export const whyNotEditable = "This file can be read but not changed from here.";
