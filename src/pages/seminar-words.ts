// An answer to a clip in words, question by question, for the reader who has just given it.

import { doneAction } from "../bout/words";
import type { Answer } from "../figures/seminar-format";
import type { Question, Terms } from "./seminar-terms";

/** Parts that were not asked are left out; one that was not answered says so. */
export function answerInWords(
  answer: Answer,
  terms: Terms,
): readonly { readonly question: Question; readonly text: string }[] {
  const { said, who } = terms;
  const text = (question: Question, value: string | undefined) => ({
    question,
    text: value ?? said.notAnswered,
  });
  const { assistants } = answer;
  const person = (one: "left" | "right" | "both" | "none" | null) =>
    one === null ? undefined : one === "none" ? who.nobody : who[one];
  const sure = text("sure", answer.sure === null ? undefined : terms.sure[answer.sure]);
  if (assistants !== undefined)
    return [
      text("lifting", person(assistants.lifting)),
      text("feet", person(assistants.feet)),
      text("earlyStart", person(assistants.earlyStart)),
      text("looseChair", person(assistants.looseChair)),
      sure,
    ];
  const hit = (side: "left" | "right") => {
    const judged = answer.hit?.[side] ?? null;
    return judged === null ? undefined : terms.hit[judged];
  };
  return [
    text("why", answer.why === null ? undefined : terms.why[answer.why]),
    text("opener", answer.opener === null ? undefined : who[answer.opener]),
    text("actions", answer.actions === null ? undefined : actionsInWords(answer.actions, terms)),
    text("hitLeft", hit("left")),
    text("hitRight", hit("right")),
    text("award", answer.award === null ? undefined : who[answer.award]),
    text("card", cardInWords(answer.card, terms)),
    sure,
  ];
}

export function actionsInWords(actions: NonNullable<Answer["actions"]>, terms: Terms): string {
  if (actions.length === 0) return terms.said.noActionsAtAll;
  return actions.map((words) => actionInWords(words, terms)).join(", ");
}

export function actionInWords(words: NonNullable<Answer["actions"]>[number], terms: Terms): string {
  const { doer, action } = doneAction(words);
  return terms.told(doer, terms.actions[action]);
}

function cardInWords(card: Answer["card"], { said, cards, who }: Terms): string | undefined {
  if (card === null) return undefined;
  if (card === "none") return said.noCard;
  const group = card.group === null ? "" : `, ${said.group.toLowerCase()} ${card.group}`;
  return `${cards[card.card]} ${said.cardTo} ${who[card.to]}${group}`;
}
