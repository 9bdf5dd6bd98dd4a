// Who answers, and how the clips are shown; or going on where one stopped, from the browser's storage or from a file.

import { nameProblem, type UncheckedAnswers, type Way } from "../../figures/seminar-format";
import { readAnswers } from "../../figures/seminar-reading";
import type { SeminarPack } from "../../figures/seminar-pack";
import type { Terms } from "../../pages/seminar-terms";
import { element, setText } from "../dom";
import type { Keeping } from "./keeping";
import { keptName } from "./session";

/** What was filled in, so that it outlives a change of language. */
export interface Filled {
  name: string;
  reference: boolean;
  role: string;
  way: Way;
}

export function startScreen(
  pack: SeminarPack,
  keeping: Keeping,
  filled: Filled,
  terms: Terms,
  begin: (answers: UncheckedAnswers) => void,
): HTMLElement {
  const { said } = terms;
  const problem = element("p", { class: "problem", role: "alert" });
  const name = textField(said.name, filled.name, (text) => (filled.name = text));
  name.input.autocomplete = "name";
  const role = textField(said.role, filled.role, (text) => (filled.role = text));
  role.row.hidden = !filled.reference;
  const as = radios(
    said.as,
    [
      { text: said.reader, chosen: !filled.reference },
      { text: said.forReference, chosen: filled.reference },
    ],
    (index) => {
      filled.reference = index === 1;
      role.row.hidden = !filled.reference;
    },
  );
  const way = radios(
    said.way,
    pack.ways.map((one) => ({ text: said[one], chosen: one === filled.way })),
    (index) => (filled.way = pack.ways[index] ?? filled.way),
  );
  const form = element(
    "form",
    {},
    name.row,
    as,
    role.row,
    way,
    problem,
    element("button", { type: "submit", class: "main" }, said.begin),
  );
  form.addEventListener("submit", (event) => {
    event.preventDefault();
    const wrong = [name, ...(filled.reference ? [role] : [])].find(
      ({ input }) => nameProblem(input.value) !== undefined,
    );
    if (wrong !== undefined) {
      setText(problem, said.badName);
      wrong.input.setAttribute("aria-invalid", "true");
      wrong.input.focus();
      return;
    }
    const who = {
      reader: name.input.value.trim(),
      ...(filled.reference ? { role: role.input.value.trim() } : {}),
      way: filled.way,
    };
    const fresh: UncheckedAnswers = {
      answers: 1,
      pack: pack.pack,
      ...who,
      started: new Date().toISOString(),
      finished: null,
      items: [],
    };
    begin(keeping.find(keptName(who)) ?? fresh);
  });
  const file = element("input", { type: "file", accept: ".json,application/json" });
  file.addEventListener("change", () => {
    void file.files?.[0]?.text().then((text) => {
      const read = readAnswers(text);
      if (!read.ok) setText(problem, `${said.badFile} ${read.problem.message}`);
      else if (read.value.pack !== pack.pack) setText(problem, `${said.badFile} ${said.otherPack}`);
      else {
        const { check: _, ...answers } = read.value;
        begin(answers);
      }
    });
  });
  return element(
    "section",
    { class: "start" },
    element("h1", { tabindex: "-1" }, pack.title),
    element("p", {}, factsOf(pack, terms)),
    pack.hideLamps && element("p", {}, said.lampsHidden),
    element("p", {}, pack.revealed === undefined ? said.notRevealed : said.revealed),
    element("p", {}, keeping.works ? said.kept : said.notKept),
    form,
    element("p", { class: "load" }, element("label", {}, `${said.load} `, file)),
    element(
      "section",
      { class: "keys" },
      element("h2", {}, said.keys),
      element("p", {}, said.keysWhat),
      element("p", {}, said.keysActions),
    ),
  );
}

function factsOf({ clips, ways, answerSeconds }: SeminarPack, { said }: Terms): string {
  const time = ways.includes("live") ? `; ${answerSeconds} ${said.seconds}` : "";
  return `${clips.length} ${said.many}${time}.`;
}

function textField(text: string, value: string, change: (text: string) => void) {
  const input = element("input", { type: "text", value, maxlength: 60, spellcheck: "false" });
  input.addEventListener("input", () => change(input.value));
  return { input, row: element("p", {}, element("label", {}, `${text} `, input)) };
}

let groups = 0;
function radios(
  question: string,
  choices: readonly { readonly text: string; readonly chosen: boolean }[],
  choose: (index: number) => void,
): HTMLElement {
  groups += 1;
  const name = `start-${groups}`;
  return element(
    "fieldset",
    {},
    element("legend", {}, question),
    ...choices.map(({ text, chosen }, index) => {
      const input = element("input", { type: "radio", name, checked: chosen });
      input.addEventListener("change", () => choose(index));
      return element("label", { class: "line" }, input, element("span", {}, text));
    }),
  );
}
