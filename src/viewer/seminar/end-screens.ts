// Between two clips, where the reference is shown or the time was up; and the end, where the answers are saved to a file.

import { withCheck, type Answer, type UncheckedAnswers } from "../../figures/seminar-format";
import { answerInWords } from "../../pages/seminar-words";
import type { Terms } from "../../pages/seminar-terms";
import { element } from "../dom";
import type { Session } from "./session";

/** What the reference holds beside what was said, question by question; `right` is null for a clip to be discussed. */
export function betweenScreen(
  terms: Terms,
  { timeUp, said: given, right }: { timeUp: boolean; said: Answer; right: Answer | null | undefined },
  next: () => void,
): HTMLElement {
  const { said, questions } = terms;
  const go = element("button", { type: "button", class: "main" }, said.next);
  go.addEventListener("click", next);
  const mine = new Map(answerInWords(given, terms).map(({ question, text }) => [question, text]));
  const table =
    right === undefined || right === null
      ? undefined
      : element(
          "table",
          {},
          element(
            "thead",
            {},
            element(
              "tr",
              {},
              element("td", {}),
              element("th", { scope: "col" }, said.reference),
              element("th", { scope: "col" }, said.yours),
            ),
          ),
          element(
            "tbody",
            {},
            ...answerInWords(right, terms)
              .filter(({ question, text }) => question !== "sure" && text !== said.notAnswered)
              .map(({ question, text }) =>
                element(
                  "tr",
                  {},
                  element("th", { scope: "row" }, questions[question]),
                  element("td", {}, text),
                  element("td", {}, mine.get(question) ?? said.notAnswered),
                ),
              ),
          ),
        );
  return element(
    "section",
    { class: "between" },
    element("h1", { tabindex: "-1" }, timeUp ? said.up : said.reference),
    right === null && element("p", {}, said.forDiscussion),
    table,
    go,
  );
}

export function finishScreen(session: Session, { said }: Terms): HTMLElement {
  const save = element("button", { type: "button", class: "main" }, said.save);
  save.addEventListener("click", () => saveToFile(session.answers));
  return element(
    "section",
    { class: "finish" },
    element("h1", { tabindex: "-1" }, said.done),
    element("p", {}, `${session.answered} ${said.of} ${session.clips.length} ${said.answered}.`),
    save,
    element("p", {}, said.send),
  );
}

/** Hands the browser a file to keep; nothing leaves the machine. */
export function saveToFile(answers: UncheckedAnswers): void {
  const text = JSON.stringify(withCheck(answers), undefined, 2) + "\n";
  const address = URL.createObjectURL(new Blob([text], { type: "application/json" }));
  const link = element("a", { href: address, download: `${answers.role ?? answers.reader}.answers.json` });
  document.body.append(link);
  link.click();
  link.remove();
  window.setTimeout(() => URL.revokeObjectURL(address), 60_000);
}
