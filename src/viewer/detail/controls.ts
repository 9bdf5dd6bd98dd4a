// One field of the detail strip on the page: a text, a choice, a tick, a pair of numbers or a list of words, each showing
// what is written and handing on what is typed.

import { sides } from "../../bout/words";
import type { Head, Item } from "../../messages/scene";
import { element, fill, setChoice } from "../dom";
import { shortName } from "../ledger-line";
import { shownText, type EntryField } from "./entry-fields";

export interface FieldControl {
  readonly field: EntryField;
  readonly place: HTMLElement;
  readonly inputs: readonly (HTMLInputElement | HTMLSelectElement)[];
  /** Takes the written value; a text somebody is typing is left alone. */
  show(item: Item): void;
}

export interface ControlEvents {
  /** Text was typed or chosen; false where it can't be that. */
  commit(field: EntryField, control: HTMLElement, typed: string): boolean;
  /** The keyboard may go back to the picture. */
  leave(): void;
}

export function fieldControl(field: EntryField, head: Head, events: ControlEvents): FieldControl {
  switch (field.takes.as) {
    case "choice":
      return choiceControl(field, field.takes.choices, field.takes.required === true, head, events);
    case "tick":
      return tickControl(field, field.takes.on, events);
    case "pair":
      return pairControl(field, head, events);
    case "several":
      return severalControl(field, field.takes.choices, events);
    default:
      return textControl(field, events);
  }
}

function textControl(field: EntryField, events: ControlEvents): FieldControl {
  const { takes, name, words } = field;
  const input = element("input", {
    type: "text",
    name,
    spellcheck: "false",
    autocomplete: "off",
    list: takes.as === "text" ? takes.offers : undefined,
    inputmode: takes.as === "number" ? "decimal" : undefined,
    placeholder:
      takes.as === "time" ? "h:mm:ss.mmm" : takes.as === "words" ? "your words, by commas" : undefined,
  });
  commitText(input, field, () => input.value, events);
  const kind = takes.as === "text" ? (takes.wide === true ? "wide" : "middling") : takes.as;
  return {
    field,
    place: element("label", { class: `field ${kind}` }, element("span", {}, words), input),
    inputs: [input],
    show: (item) => {
      showText(input, shownText(item.fields[name]));
    },
  };
}

function choiceControl(
  field: EntryField,
  choices: readonly (string | number)[],
  required: boolean,
  head: Head,
  events: ControlEvents,
): FieldControl {
  const select = element(
    "select",
    { name: field.name },
    !required && element("option", { value: "" }, "—"),
    ...choices.map((one) => element("option", { value: String(one) }, choiceWords(String(one), head))),
  );
  select.addEventListener("change", () => {
    events.commit(field, select, select.value);
  });
  leaveByKey(select, events);
  return {
    field,
    place: element("label", { class: "field choice" }, element("span", {}, field.words), select),
    inputs: [select],
    show: (item) => {
      setChoice(select, shownText(item.fields[field.name]));
    },
  };
}

function tickControl(field: EntryField, on: boolean, events: ControlEvents): FieldControl {
  const input = element("input", { type: "checkbox", name: field.name });
  input.addEventListener("change", () => {
    events.commit(field, input, input.checked ? "on" : "");
  });
  leaveByKey(input, events);
  return {
    field,
    place: element("label", { class: "field tick" }, input, element("span", {}, field.words)),
    inputs: [input],
    show: (item) => {
      input.checked = item.fields[field.name] === on;
    },
  };
}

function pairControl(field: EntryField, head: Head, events: ControlEvents): FieldControl {
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
  for (const input of inputs) commitText(input, field, typed, events);
  const onScreen = order.map((place) => inputs[place]).filter((input) => input !== undefined);
  const names = order.map((place) => shortName(head.names[place])).join(", ");
  return {
    field,
    place: element(
      "div",
      { class: "field pair", role: "group", "aria-label": field.words },
      element("span", {}, `${field.words}: ${names}`),
      element("div", { class: "two" }, ...onScreen),
    ),
    inputs: onScreen,
    show: (item) => {
      const value = item.fields[field.name];
      inputs.forEach((input, place) => {
        showText(input, Array.isArray(value) ? shownText(value[place]) : "");
      });
    },
  };
}

function severalControl(field: EntryField, choices: readonly string[], events: ControlEvents): FieldControl {
  const chosen = element("span", { class: "chosen" });
  const add = element("select", { name: field.name, "aria-label": `${field.words}: add one` });
  let words: readonly string[] = [];
  const write = (next: readonly string[]) => {
    events.commit(field, add, next.join(", "));
  };
  add.addEventListener("change", () => {
    if (add.value !== "") write([...words, add.value]);
  });
  leaveByKey(add, events);
  const chip = (word: string) => {
    const last = words.length < 2;
    const button = element(
      "button",
      { type: "button", title: `Take ${word} away`, disabled: last },
      last ? word : `${word} ×`,
    );
    button.addEventListener("click", () => {
      write(words.filter((one) => one !== word));
    });
    return button;
  };
  return {
    field,
    place: element(
      "div",
      { class: "field several", role: "group", "aria-label": field.words },
      element("span", {}, field.words),
      element("div", { class: "two" }, chosen, add),
    ),
    inputs: [add],
    show: (item) => {
      const value = item.fields[field.name];
      const next = (Array.isArray(value) ? value : value === undefined ? [] : [value]).map((one) =>
        shownText(one),
      );
      if (next.length > 0 && next.join() === words.join()) return;
      words = next;
      fill(chosen, ...words.map(chip));
      const others = choices.filter((one) => !words.includes(one));
      fill(
        add,
        element("option", { value: "" }, "add…"),
        ...others.map((value) => element("option", { value }, value)),
      );
    },
  };
}

/** Text is written when it is left or Enter is pressed; Escape puts back what was there. */
function commitText(
  input: HTMLInputElement,
  field: EntryField,
  typed: () => string,
  events: ControlEvents,
): void {
  const commit = () => {
    if (input.dataset["before"] === undefined || input.value === input.dataset["before"]) return;
    if (events.commit(field, input, typed())) input.dataset["before"] = input.value;
  };
  input.addEventListener("change", commit);
  input.addEventListener("keydown", (event) => {
    if (event.isComposing) return;
    if (event.key === "Escape") input.value = input.dataset["before"] ?? input.value;
    if (event.key === "Enter" || ((event.ctrlKey || event.metaKey) && event.key === "s")) commit();
  });
  leaveByKey(input, events);
}

/** Enter and Escape give the keyboard back to the picture, Enter only from text that could be written. */
function leaveByKey(control: HTMLElement, events: ControlEvents): void {
  control.addEventListener("keydown", (event) => {
    if (event.isComposing || (event.key !== "Enter" && event.key !== "Escape")) return;
    if (control.getAttribute("aria-invalid") === "true" && event.key === "Enter") return;
    event.preventDefault();
    control.removeAttribute("aria-invalid");
    events.leave();
  });
}

function showText(input: HTMLInputElement, text: string): void {
  const typing = document.activeElement === input && input.value !== input.dataset["before"];
  if (typing) return;
  if (input.value !== text) input.value = text;
  if (input.dataset["before"] !== text) input.dataset["before"] = text;
}

/** "left" says whose it is. */
function choiceWords(word: string, head: Head): string {
  return word === "left" || word === "right"
    ? `${word} (${shortName(head.names[word === "left" ? 0 : 1])})`
    : word;
}
