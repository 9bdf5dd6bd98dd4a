// One question with a few answers, of which one is chosen: a group of radio buttons, which screen readers know, and keys.

import { element } from "../dom";

export interface Choice<T> {
  readonly value: T;
  readonly text: string;
  /** Key by position that chooses it while the question has the focus, and what the button shows of it. */
  readonly key?: string;
}

/** A question on the page. */
export interface Asked {
  readonly element: HTMLElement;
  readonly focus: () => void;
  /** Whether the key was meant for this question. */
  readonly key: (event: KeyboardEvent) => boolean;
}

let named = 0;

export function choice<T>(
  question: string,
  choices: readonly Choice<T>[],
  chosen: T | null,
  choose: (value: T) => void,
): Asked {
  named += 1;
  const name = `question-${named}`;
  const inputs = choices.map(({ value }) => {
    const input = element("input", { type: "radio", name, checked: value === chosen });
    input.addEventListener("change", () => choose(value));
    return input;
  });
  const take = (index: number) => {
    const [input, one] = [inputs[index], choices[index]];
    if (input === undefined || one === undefined) return false;
    input.focus();
    if (!input.checked) {
      input.checked = true;
      choose(one.value);
    }
    return true;
  };
  const fieldset = element(
    "fieldset",
    { class: "choice" },
    element("legend", {}, question),
    element(
      "div",
      { class: "choices" },
      ...choices.map(({ text, key }, index) =>
        element(
          "label",
          {},
          inputs[index],
          element("span", {}, text),
          (key !== undefined || index < 9) &&
            element("kbd", { "aria-hidden": "true" }, key?.replace("Key", "") ?? String(index + 1)),
        ),
      ),
    ),
  );
  return {
    element: fieldset,
    focus: () => (inputs.find(({ checked }) => checked) ?? inputs[0])?.focus(),
    key: ({ code }) => {
      const digit = /^(?:Digit|Numpad)([1-9])$/.exec(code)?.[1];
      if (digit !== undefined) return take(Number(digit) - 1);
      return take(choices.findIndex(({ key }) => key === code));
    },
  };
}
