// The actions of a phrase, in the order they were seen: keys by place as on the call pad, the left hand's for the left
// fencer, the right hand's for the right, and a button for each action.

import { actions, type Action, type ActionWords, type Doer } from "../../bout/words";
import { actionInWords } from "../../pages/seminar-words";
import type { Terms } from "../../pages/seminar-terms";
import { element, fill } from "../dom";
import type { Asked } from "./choice";

const keys: readonly (readonly [Action, left: string, right: string])[] = [
  ["attack", "KeyF", "KeyJ"],
  ["parry", "KeyD", "KeyK"],
  ["riposte", "KeyS", "KeyL"],
  ["counter-attack", "KeyA", "Semicolon"],
  ["remise", "KeyR", "KeyU"],
  ["point in line", "KeyE", "KeyI"],
  ["lean back", "KeyW", "KeyO"],
];
const byKey = new Map<string, ActionWords>([
  ...keys.flatMap(([action, left, right]): [string, ActionWords][] => [
    [left, `left ${action}`],
    [right, `right ${action}`],
  ]),
  ["KeyB", "both attack"],
]);
const keyShown = new Map(
  [...byKey].map(([code, words]) => [words, code === "Semicolon" ? ";" : code.slice(3)]),
);
const keyed = keys.map(([action]) => action);
const inOrder = [...keyed, ...actions.filter((action) => !keyed.includes(action))];
/** More than any phrase has. */
const most = 20;

export function actionsQuestion(
  terms: Terms,
  given: readonly ActionWords[] | null,
  change: (actions: ActionWords[] | null) => void,
): Asked {
  let now: ActionWords[] | null = given === null ? null : [...given];
  const { said } = terms;
  const sentence = element("p", { class: "told", role: "status", tabindex: "0" });
  const show = () => {
    fill(
      sentence,
      now === null
        ? said.noActions
        : now.length === 0
          ? said.noActionsAtAll
          : now.map((words) => actionInWords(words, terms)).join(", "),
    );
  };
  const set = (next: ActionWords[] | null) => {
    now = next;
    show();
    change(now);
  };
  const add = (words: ActionWords) => {
    if ((now?.length ?? 0) < most) set([...(now ?? []), words]);
  };
  const takeBack = () => set(now === null || now.length <= 1 ? null : now.slice(0, -1));
  const button = (doer: Doer, action: Action) => {
    const words = `${doer} ${action}` as const;
    const key = keyShown.get(words);
    const made = element(
      "button",
      { type: "button" },
      // Seen, the column says whose it is; read out, the words do.
      element("span", { class: "unseen" }, actionInWords(words, terms)),
      element("span", { "aria-hidden": "true" }, terms.actions[action]),
      key === undefined ? undefined : element("kbd", { "aria-hidden": "true" }, key),
    );
    made.addEventListener("click", () => add(words));
    return made;
  };
  const column = (doer: Doer, done: readonly Action[], ...more: readonly HTMLElement[]) =>
    element(
      "div",
      { class: `column ${doer}`, role: "group", "aria-label": terms.who[doer] },
      element("p", { class: "who", "aria-hidden": "true" }, terms.who[doer]),
      ...done.map((action) => button(doer, action)),
      ...more,
    );
  const plainButton = (text: string, act: () => void) => {
    const made = element("button", { type: "button" }, text);
    made.addEventListener("click", act);
    return made;
  };
  show();
  return {
    element: element(
      "fieldset",
      { class: "actions" },
      element("legend", {}, terms.questions.actions),
      sentence,
      element(
        "div",
        { class: "columns" },
        column("left", inOrder),
        column(
          "both",
          ["attack"],
          plainButton(said.noActionsAtAll, () => set([])),
          plainButton(said.takeBack, takeBack),
        ),
        column("right", inOrder),
      ),
    ),
    focus: () => sentence.focus(),
    key: ({ code }) => {
      const words = byKey.get(code);
      if (words !== undefined) add(words);
      else if (code === "Backspace") takeBack();
      else if (code === "KeyN") set([]);
      else return false;
      return true;
    },
  };
}
