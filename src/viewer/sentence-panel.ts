// The call sentence on the page: the entry in hand told in words, its state, what the next keys do, and what the host
// has to say.

import { sides } from "../bout/words";
import { commandById } from "../messages/commands";
import type { Item } from "../messages/scene";
import { element, fill, setText } from "./dom";
import type { KeyNames } from "./key-names";
import { lampSign, lampWords } from "./lamps";
import { callApart, nextKeys, stateWords } from "./sentence";

export class SentencePanel {
  readonly element: HTMLElement;
  readonly #number = element("span", { class: "number" });
  readonly #told = element("span", { class: "told" });
  readonly #call = element("b", { class: "call" });
  readonly #lamps = element("span", { class: "lamps" });
  readonly #state = element("span", { class: "state" });
  readonly #keys = element("p", { class: "next" });
  readonly #findings = element("ul", { class: "findings", hidden: true });
  readonly #note = element("p", { class: "say", role: "status" });
  readonly #error = element("p", { class: "say error", role: "alert" });
  /** Read out by a screen reader when an entry is changed or gone to. */
  readonly #spoken = element("p", { class: "spoken", "aria-live": "polite" });
  #shown = "";

  constructor() {
    this.element = element(
      "section",
      { class: "sentence", "aria-label": "Call sentence" },
      element("p", { class: "line-one" }, this.#number, this.#told, this.#call, this.#lamps),
      this.#keys,
      this.#findings,
      this.#note,
      this.#error,
      this.#spoken,
    );
  }

  /** Shows the entry in hand; without names no key does anything. `speak` reads it out where it is news. */
  show(item: Item | undefined, phrase: Item | undefined, names: KeyNames | undefined, speak: boolean): void {
    const hints = (names === undefined ? [] : nextKeys(item, phrase))
      .map(({ commands, does }) => {
        const keys = commands.map((id) => {
          const command = commandById(id);
          return command === undefined ? "" : (names?.of(command) ?? "");
        });
        return [keys.filter((key) => key !== ""), does] as const;
      })
      .filter(([keys]) => keys.length > 0);
    const key = JSON.stringify([item, hints]);
    if (key === this.#shown) return;
    this.#shown = key;
    const [told, call] = item === undefined ? ["no entry at or before this frame", ""] : tell(item);
    setText(this.#number, item === undefined ? "" : item.number === null ? item.kind : String(item.number));
    setText(this.#told, told);
    setText(this.#call, call);
    setText(this.#state, item === undefined ? "" : stateWords(item));
    this.element.dataset["state"] = item?.state ?? "none";
    this.#showLamps(item);
    fill(
      this.#keys,
      this.#state,
      " ",
      ...hints.flatMap(([keys, does]) => [
        element(
          "span",
          { class: "hint" },
          ...keys.flatMap((one) => [element("kbd", {}, one === "Backspace" ? "⌫" : one), " "]),
          does,
        ),
        " ",
      ]),
    );
    this.#findings.hidden = item === undefined || item.findings.length === 0;
    fill(
      this.#findings,
      ...(item?.findings ?? []).map(({ severity, message }) =>
        element("li", {}, element("b", {}, severity), ` ${message}`),
      ),
    );
    if (speak && item !== undefined)
      setText(
        this.#spoken,
        [spokenName(item), told + call, stateWords(item)].filter((one) => one !== "").join(", "),
      );
  }

  /** A line from the host. An error stays until the next key. */
  say(severity: "error" | "note", message: string): void {
    setText(this.#error, severity === "error" ? message : "");
    setText(this.#note, severity === "note" ? message : "");
  }

  keyPressed(): void {
    this.say("note", "");
  }

  #showLamps(item: Item | undefined): void {
    const lit = sides.flatMap((side) => (item?.lamps?.[side] ?? []).map((lamp) => [side, lamp] as const));
    fill(
      this.#lamps,
      ...lit.map(([side, lamp]) => {
        const words = lampWords(side, lamp);
        return element("span", { role: "img", "aria-label": words, title: words }, lampSign(side, lamp));
      }),
    );
  }
}

function tell(item: Item): readonly [told: string, call: string] {
  const [told, call] = callApart(item.sentence);
  if (told + call !== "") return [told, call];
  return [item.kind === "phrase" ? (item.state === "open" ? "fence!" : "nothing told yet") : "", ""];
}

function spokenName(item: Item): string {
  return item.number === null ? "" : `phrase ${item.number}`;
}
