// The detail strip: a form for the entry under the playhead. Each changed field is one message, one edit, one undo.

import { sides } from "../../bout/words";
import type { Head, Item } from "../../messages/scene";
import { element, fill, setText } from "../dom";
import { sameItem } from "../held-scene";
import { shortName } from "../ledger-line";
import {
  entryFields,
  fault,
  shotNames,
  shownText,
  targets,
  typedValue,
  type EntryField,
  type FieldValue,
} from "./entry-fields";

export interface StripEvents {
  changed(item: Item, field: string, value: FieldValue): void;
  remove(item: Item): void;
  /** A line about something typed that can't be. */
  fault(message: string): void;
  /** The cursor may go back to the picture. */
  leave(): void;
}

type Control = HTMLInputElement | HTMLSelectElement;

interface Shown {
  readonly field: EntryField;
  readonly controls: readonly Control[];
  /** Takes the written value; left alone while somebody is typing. */
  show(item: Item): void;
}

export class Strip {
  readonly element = element("section", { class: "strip", "aria-label": "The entry under the playhead" });
  readonly #events: StripEvents;
  readonly #form = element("div", { class: "fields" });
  readonly #title = element("h2");
  readonly #ticks = element("div", { class: "ticks" });
  readonly #remove = element("button", { type: "button", class: "remove" }, "delete entry");
  readonly #offences = element("datalist", { id: "offences" });
  #item: Item | undefined;
  #head: Head | undefined;
  #shape = "";
  #shown: readonly Shown[] = [];
  #wanted: { readonly index: number; readonly field: string; readonly since: number } | undefined;

  constructor(events: StripEvents) {
    this.#events = events;
    const list = (id: string, words: readonly string[]) =>
      element("datalist", { id }, ...words.map((value) => element("option", { value })));
    this.element.append(
      element("div", { class: "strip-head" }, this.#title, this.#ticks, this.#remove),
      this.#form,
      this.#offences,
      list("targets", targets),
      list("shots", shotNames),
    );
    this.#remove.addEventListener("click", () => {
      if (this.#item !== undefined) this.#events.remove(this.#item);
    });
  }

  /** Shows the entry in hand, or keeps to the one being written. */
  show(head: Head, items: readonly Item[], inHand: Item | undefined): void {
    const writing = this.element.contains(document.activeElement) ? this.#item : undefined;
    const kept = writing === undefined ? undefined : sameItem(items, writing);
    this.#showItem(head, kept ?? inHand);
    const wanted = this.#wanted;
    if (wanted === undefined) return;
    const item = items.find(({ index }) => index === wanted.index);
    if (performance.now() - wanted.since > 3000) this.#wanted = undefined;
    else if (item !== undefined && entryFields(item.kind).some(({ name }) => name === wanted.field)) {
      this.#wanted = undefined;
      this.#showItem(head, item);
      this.#focus(wanted.field);
    }
  }

  /** Puts the cursor into a field of an entry, as soon as the entry is there. */
  write(index: number, field: string): void {
    this.#wanted = { index, field, since: performance.now() };
  }

  #focus(name: string): void {
    const control = this.#shown.find(({ field }) => field.name === name)?.controls[0];
    control?.focus();
    if (control instanceof HTMLInputElement && control.type === "text") control.select();
    control?.scrollIntoView({ block: "nearest" });
  }

  #showItem(head: Head, item: Item | undefined): void {
    const shape = `${item?.kind ?? ""} ${head.names.join(" ")} ${head.mirrored} ${head.editable}`;
    if (head.offences !== this.#head?.offences)
      fill(this.#offences, ...head.offences.map(({ name }) => element("option", { value: name })));
    this.#head = head;
    this.#item = item;
    setText(this.#title, title(item));
    this.#remove.hidden = item === undefined || !head.editable;
    if (shape !== this.#shape) {
      this.#shape = shape;
      this.#build(item, head);
    }
    if (item !== undefined) for (const shown of this.#shown) shown.show(item);
  }

  #build(item: Item | undefined, head: Head): void {
    const made = item === undefined ? [] : entryFields(item.kind).map((field) => this.#field(field, head));
    this.#shown = made.map(({ shown }) => shown);
    const isTick = ({ shown }: { shown: Shown }): boolean => shown.field.takes.as === "tick";
    fill(this.#form, ...made.filter((one) => !isTick(one)).map(({ place }) => place));
    fill(this.#ticks, ...made.filter(isTick).map(({ place }) => place));
    for (const { controls } of this.#shown) for (const control of controls) control.disabled = !head.editable;
  }

  #field(field: EntryField, head: Head): { place: HTMLElement; shown: Shown } {
    switch (field.takes.as) {
      case "choice":
        return this.#choice(field, field.takes.choices, field.takes.required === true, head);
      case "tick":
        return this.#tick(field, field.takes.on);
      case "pair":
        return this.#pair(field, head);
      case "several":
        return this.#several(field, field.takes.choices);
      default:
        return this.#text(field);
    }
  }

  #text(field: EntryField): { place: HTMLElement; shown: Shown } {
    const { takes, name, words } = field;
    const input = element("input", {
      type: "text",
      name,
      spellcheck: false,
      autocomplete: "off",
      list: takes.as === "text" ? takes.offers : undefined,
      inputmode: takes.as === "number" ? "decimal" : undefined,
      placeholder:
        takes.as === "time" ? "h:mm:ss.mmm" : takes.as === "words" ? "your words, by commas" : undefined,
    });
    this.#commits(input, field, () => input.value);
    const kind = takes.as === "text" ? (takes.wide === true ? "wide" : "middling") : takes.as;
    return {
      place: element("label", { class: `field ${kind}` }, element("span", {}, words), input),
      shown: { field, controls: [input], show: (item) => showText(input, shownText(item.fields[name])) },
    };
  }

  #choice(
    field: EntryField,
    choices: readonly (string | number)[],
    required: boolean,
    head: Head,
  ): { place: HTMLElement; shown: Shown } {
    const select = element(
      "select",
      { name: field.name },
      !required && element("option", { value: "" }, "—"),
      ...choices.map((one) => element("option", { value: String(one) }, choiceWords(String(one), head))),
    );
    select.addEventListener("change", () => {
      this.#commit(field, select, select.value);
    });
    this.#keys(select);
    return {
      place: element("label", { class: "field choice" }, element("span", {}, field.words), select),
      shown: {
        field,
        controls: [select],
        show: (item) => {
          const value = shownText(item.fields[field.name]);
          if (document.activeElement !== select || select.value !== value) select.value = value;
        },
      },
    };
  }

  #tick(field: EntryField, on: boolean): { place: HTMLElement; shown: Shown } {
    const input = element("input", { type: "checkbox", name: field.name });
    input.addEventListener("change", () => {
      this.#commit(field, input, input.checked ? "on" : "");
    });
    this.#keys(input);
    return {
      place: element("label", { class: "field tick" }, input, element("span", {}, field.words)),
      shown: {
        field,
        controls: [input],
        show: (item) => {
          input.checked = item.fields[field.name] === on;
        },
      },
    };
  }

  #pair(field: EntryField, head: Head): { place: HTMLElement; shown: Shown } {
    const order = head.mirrored ? ([1, 0] as const) : ([0, 1] as const);
    const inputs = sides.map((side, place) =>
      element("input", {
        type: "text",
        inputmode: "numeric",
        name: place === order[0] ? field.name : `${field.name} ${side}`,
        "aria-label": `${field.words}, ${head.names[place === 0 ? 0 : 1]}`,
        autocomplete: "off",
      }),
    );
    const typed = () => inputs.map((input) => input.value).join(" ");
    for (const input of inputs) this.#commits(input, field, typed);
    const onScreen = order.map((place) => inputs[place]).filter((input) => input !== undefined);
    return {
      place: element(
        "div",
        { class: "field pair", role: "group", "aria-label": field.words },
        element(
          "span",
          {},
          `${field.words}: ${order.map((place) => shortName(head.names[place])).join(", ")}`,
        ),
        element("div", { class: "two" }, ...onScreen),
      ),
      shown: {
        field,
        controls: onScreen,
        show: (item) => {
          const value = item.fields[field.name];
          inputs.forEach((input, place) => {
            showText(input, Array.isArray(value) ? shownText(value[place]) : "");
          });
        },
      },
    };
  }

  #several(field: EntryField, choices: readonly string[]): { place: HTMLElement; shown: Shown } {
    const chosen = element("span", { class: "chosen" });
    const add = element("select", { name: field.name, "aria-label": `${field.words}: add one` });
    let words: readonly string[] = [];
    const write = (next: readonly string[]) => {
      this.#commit(field, add, next.join(", "));
    };
    add.addEventListener("change", () => {
      if (add.value !== "") write([...words, add.value]);
    });
    this.#keys(add);
    const show = (item: Item) => {
      const value = item.fields[field.name];
      words = (Array.isArray(value) ? value : value === undefined ? [] : [value]).map((one) =>
        shownText(one),
      );
      fill(
        chosen,
        ...words.map((word) => {
          const button = element(
            "button",
            {
              type: "button",
              "aria-label": `Take ${word} away`,
              title: `Take ${word} away`,
              disabled: words.length < 2,
            },
            words.length < 2 ? word : `${word} ×`,
          );
          button.addEventListener("click", () => {
            write(words.filter((one) => one !== word));
          });
          return button;
        }),
      );
      fill(
        add,
        element("option", { value: "" }, "add…"),
        ...choices.filter((one) => !words.includes(one)).map((value) => element("option", { value }, value)),
      );
    };
    return {
      place: element(
        "div",
        { class: "field several", role: "group", "aria-label": field.words },
        element("span", {}, field.words),
        element("div", { class: "two" }, chosen, add),
      ),
      shown: { field, controls: [add], show },
    };
  }

  /** Text is written when it is left or Enter is pressed; Escape puts back what was there. */
  #commits(input: HTMLInputElement, field: EntryField, typed: () => string): void {
    const commit = () => {
      if (input.dataset["before"] === undefined || input.value === input.dataset["before"]) return;
      if (this.#commit(field, input, typed())) input.dataset["before"] = input.value;
    };
    input.addEventListener("change", commit);
    input.addEventListener("keydown", (event) => {
      if (event.key === "Escape") input.value = input.dataset["before"] ?? input.value;
      if (event.key === "Enter") commit();
      if ((event.ctrlKey || event.metaKey) && event.key === "s") commit();
    });
    this.#keys(input);
  }

  /** Keys typed here are not the viewer's; Enter and Escape give the keyboard back to the picture. */
  #keys(control: HTMLElement): void {
    control.addEventListener("keydown", (event) => {
      if (event.isComposing) return;
      if (event.key !== "Enter" && event.key !== "Escape") return;
      if (control.getAttribute("aria-invalid") === "true" && event.key === "Enter") return;
      event.preventDefault();
      control.removeAttribute("aria-invalid");
      this.#events.leave();
    });
  }

  #commit(field: EntryField, control: Control, typed: string): boolean {
    const item = this.#item;
    const value = typedValue(field.takes, typed);
    const wrong = value === undefined || (value === null && cannotGo(item, field));
    control.setAttribute("aria-invalid", String(wrong));
    if (item === undefined) return false;
    if (wrong) {
      this.#events.fault(value === null ? `${field.words}: this can't be left out` : fault(field));
      return false;
    }
    this.#events.changed(item, field.name, value);
    return true;
  }
}

function showText(input: HTMLInputElement, text: string): void {
  const typing = document.activeElement === input && input.value !== input.dataset["before"];
  if (!typing && input.value !== text) input.value = text;
  if (!typing) input.dataset["before"] = text;
}

function title(item: Item | undefined): string {
  if (item === undefined) return "no entry yet";
  return item.number === null ? item.kind : `phrase ${item.number}`;
}

/** "left" says whose it is. */
function choiceWords(word: string, head: Head): string {
  return word === "left" || word === "right"
    ? `${word} (${shortName(head.names[word === "left" ? 0 : 1])})`
    : word;
}

/** Fields without which an entry can't be read. */
function cannotGo(item: Item | undefined, { name, takes }: EntryField): boolean {
  return (
    name === "at" ||
    name === "start" ||
    (name === "score" && takes.as === "pair") ||
    (item?.kind === "stop" && name === "for") ||
    (item?.kind === "shot" && name === "name")
  );
}
