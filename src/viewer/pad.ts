// The call pad: the two halves of keys that flank the picture, and the row of keys common to both fencers.

import type { Lamp, Side } from "../bout/words";
import { sides } from "../bout/words";
import type { Command } from "../messages/commands";
import type { Head, Item } from "../messages/scene";
import { element, setText } from "./dom";
import type { KeyNames } from "./key-names";
import { lampSign } from "./lamps";
import { commonKeys, doneWords, fencerOn, moreKeys, padHalf, type CommonKey } from "./pad-plan";

interface Button {
  readonly command: Command;
  readonly plain: string;
  readonly button: HTMLButtonElement;
  readonly words: HTMLElement;
  readonly cap: HTMLElement;
  readonly lamp: { readonly half: Side; readonly kind: Lamp; readonly place: HTMLElement } | undefined;
}

export class Pad {
  readonly halves: Readonly<Record<Side, HTMLElement>>;
  readonly common: HTMLElement;
  readonly #buttons: Button[] = [];
  readonly #names: Readonly<Record<Side, HTMLElement>>;
  readonly #press: (command: Command) => void;
  #shown: { readonly head: Head; readonly phrase: Item | undefined; readonly disabled: string } | undefined;

  constructor(press: (command: Command) => void) {
    this.#press = press;
    this.#names = { left: element("h2", { class: "fencer" }), right: element("h2", { class: "fencer" }) };
    this.halves = { left: this.#half("left"), right: this.#half("right") };
    this.common = this.#commonRow();
  }

  /** Shows the state of the phrase in hand on the buttons, and whether they can be used. */
  show(head: Head, phrase: Item | undefined, disabled: string): void {
    const shown = this.#shown;
    if (shown?.head === head && shown.phrase === phrase && shown.disabled === disabled) return;
    this.#shown = { head, phrase, disabled };
    for (const half of sides) {
      const side = fencerOn(half, head.mirrored);
      setText(this.#names[half], head.names[side === "left" ? 0 : 1]);
      this.halves[half].setAttribute(
        "aria-label",
        `Call pad, ${head.names[side === "left" ? 0 : 1]}, ${side} fencer`,
      );
    }
    for (const { command, button, words, plain, lamp } of this.#buttons) {
      const done = doneWords(command, phrase, head.mirrored);
      button.setAttribute("aria-pressed", String(done !== undefined));
      setText(words, done === undefined || done === "" ? plain : done);
      button.disabled = disabled !== "" && command.mode === "tagging" && "tag" in command.does;
      button.title = disabled === "" ? command.title : disabled;
      if (lamp !== undefined) {
        const side = fencerOn(lamp.half, head.mirrored);
        if (lamp.place.dataset["side"] === side) continue;
        lamp.place.dataset["side"] = side;
        lamp.place.replaceChildren(lampSign(side, lamp.kind));
      }
    }
  }

  nameKeys(names: KeyNames): void {
    for (const { command, cap } of this.#buttons) {
      const name = names.of(command);
      setText(cap, name === "Backspace" ? "⌫" : name.replace(/^Shift /, "⇧ "));
      cap.hidden = name === "";
    }
  }

  #half(half: Side): HTMLElement {
    return element(
      "section",
      { class: `half ${half}` },
      this.#names[half],
      ...padHalf(half).map(({ heading, commands }) =>
        element(
          "div",
          { class: "group", role: "group", "aria-label": heading },
          element("h3", { "aria-hidden": true }, heading),
          ...commands.map((command) => this.#button(command, command.pad?.words ?? command.title, half)),
        ),
      ),
    );
  }

  #commonRow(): HTMLElement {
    const row = (keys: readonly CommonKey[]) =>
      keys.map(({ command, words }) => this.#button(command, words));
    const more = element(
      "div",
      { class: "keys more", id: "more-keys", hidden: true, role: "group", "aria-label": "More keys" },
      ...row(moreKeys),
    );
    const toggle = element(
      "button",
      { type: "button", class: "key plain", "aria-expanded": "false", "aria-controls": "more-keys" },
      element("span", { class: "words" }, "more"),
    );
    toggle.addEventListener("click", () => {
      more.hidden = !more.hidden;
      toggle.setAttribute("aria-expanded", String(!more.hidden));
      setText(toggle, more.hidden ? "more" : "less");
    });
    return element(
      "section",
      { class: "common", "aria-label": "Keys common to both fencers" },
      element("div", { class: "keys" }, ...row(commonKeys), toggle),
      more,
    );
  }

  #button(command: Command, plain: string, half?: Side): HTMLButtonElement {
    const words = element("span", { class: "words" }, plain);
    const cap = element("kbd");
    const kind = "tag" in command.does && command.does.tag.do === "lamp" ? command.does.tag.lamp : undefined;
    const place =
      half === undefined || kind === undefined ? undefined : element("span", { class: "lamp-place" });
    const button = element(
      "button",
      { type: "button", class: "key", "aria-pressed": "false", title: command.title },
      place,
      words,
      cap,
    );
    button.addEventListener("click", () => {
      this.#press(command);
    });
    this.#buttons.push({
      command,
      plain: sidedWords(command, plain),
      button,
      words,
      cap,
      lamp:
        place === undefined || half === undefined || kind === undefined ? undefined : { half, kind, place },
    });
    return button;
  }
}

/** Words of a button that stands away from its fencer's half. */
function sidedWords(command: Command, plain: string): string {
  if (command.pad !== undefined) return plain;
  return command.id.endsWith(".left")
    ? `${plain}, left`
    : command.id.endsWith(".right")
      ? `${plain}, right`
      : plain;
}
