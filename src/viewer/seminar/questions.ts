// The questions of a clip in the order a referee gives the answers, or those of the assistants' paper.

import { cardColours, type CardColour, type Doer } from "../../bout/words";
import {
  cardGroups,
  haltReasons,
  hitJudgements,
  sureness,
  type Answer,
  type AssistantsAnswer,
  type CardAnswer,
} from "../../figures/seminar-format";
import type { Question, Terms } from "../../pages/seminar-terms";
import { element } from "../dom";
import { actionsQuestion } from "./actions-question";
import { choice, type Asked, type Choice } from "./choice";

type Person = "left" | "right" | "both";

/** Builds the questions; `change` gets the whole answer after each choice. */
export function questionsFor(
  answer: Answer,
  terms: Terms,
  change: (answer: Answer) => void,
): readonly Asked[] {
  let now = answer;
  const set = (part: Partial<Answer>) => {
    now = { ...now, ...part };
    change(now);
  };
  const { assistants } = answer;
  const sure = choice(
    terms.questions.sure,
    sureness.map((value) => ({ value, text: terms.sure[value] })),
    answer.sure,
    (value) => set({ sure: value }),
  );
  if (assistants !== undefined)
    return [...assistantsQuestions(assistants, terms, (one) => set({ assistants: one })), sure];
  const hit = (side: "left" | "right", question: Question) =>
    choice(
      terms.questions[question],
      hitJudgements.map((value) => ({ value, text: terms.hit[value] })),
      answer.hit?.[side] ?? null,
      (value) => set({ hit: { left: null, right: null, ...now.hit, [side]: value } }),
    );
  return [
    choice(
      terms.questions.why,
      haltReasons.map((value) => ({ value, text: terms.why[value] })),
      answer.why,
      (why) => set({ why }),
    ),
    choice(terms.questions.opener, people("nobody", terms.who.nobody, terms), answer.opener, (opener) =>
      set({ opener }),
    ),
    actionsQuestion(terms, answer.actions, (actions) => set({ actions })),
    hit("left", "hitLeft"),
    hit("right", "hitRight"),
    choice(terms.questions.award, people("none", terms.who.none, terms), answer.award, (award) =>
      set({ award }),
    ),
    cardQuestion(terms, answer.card, (card) => set({ card })),
    sure,
  ];
}

/** Left stands on the left, right on the right, and both hands' middle between them. */
function people<T extends string>(nobody: T, text: string, { who }: Terms): readonly Choice<Person | T>[] {
  return [
    { value: "left", text: who.left, key: "KeyG" },
    { value: "both", text: who.both, key: "KeyB" },
    { value: nobody, text, key: "KeyN" },
    { value: "right", text: who.right, key: "KeyH" },
  ];
}

function assistantsQuestions(
  answer: AssistantsAnswer,
  terms: Terms,
  change: (answer: AssistantsAnswer) => void,
): readonly Asked[] {
  let now = answer;
  return (["lifting", "feet", "earlyStart", "looseChair"] as const).map((part) =>
    choice(terms.questions[part], people("none", terms.who.nobody, terms), answer[part], (value) => {
      now = { ...now, [part]: value };
      change(now);
    }),
  );
}

/** First which card, if any; whose and of which group is asked once there is one. */
function cardQuestion(terms: Terms, given: Answer["card"], change: (card: Answer["card"]) => void): Asked {
  const before: Partial<CardAnswer> = given === null || given === "none" ? {} : given;
  let colour: CardColour | "none" | null = given === "none" ? "none" : (before.card ?? null);
  let to: Doer | null = before.to ?? null;
  let group: CardAnswer["group"] = before.group ?? null;
  // A card is said when it is known who gets it.
  const tell = () =>
    change(colour === null || colour === "none" ? colour : to === null ? null : { to, card: colour, group });
  const which = choice<CardColour | "none">(
    terms.questions.card,
    [
      { value: "none", text: terms.said.noCard, key: "KeyN" },
      ...cardColours.map((value) => ({ value, text: terms.cards[value] })),
    ],
    colour,
    (value) => {
      colour = value;
      more.hidden = value === "none";
      tell();
    },
  );
  const { who, said } = terms;
  const whose = choice<Doer>(
    `${said.card}: ${said.cardTo}…`,
    [
      { value: "left", text: who.left, key: "KeyG" },
      { value: "both", text: who.both, key: "KeyB" },
      { value: "right", text: who.right, key: "KeyH" },
    ],
    to,
    (value) => {
      to = value;
      tell();
    },
  );
  const groups = choice<1 | 2 | 3 | 4 | "none">(
    said.group,
    [
      ...cardGroups.map((value) => ({ value, text: String(value) })),
      { value: "none" as const, text: said.noGroup, key: "KeyN" },
    ],
    given === null || given === "none" ? null : (group ?? "none"),
    (value) => {
      group = value === "none" ? null : value;
      tell();
    },
  );
  const more = element("div", { class: "more" }, whose.element, groups.element);
  more.hidden = colour === null || colour === "none";
  const parts = [which, whose, groups];
  return {
    element: element("div", { class: "card-question" }, which.element, more),
    focus: () => which.focus(),
    key: (event) => {
      const inside = parts.find(({ element: part }) => part.contains(document.activeElement));
      if (event.code === "Enter" && inside !== undefined && !more.hidden) {
        const next = parts[parts.indexOf(inside) + 1];
        next?.focus();
        return next !== undefined;
      }
      return inside?.key(event) ?? false;
    },
  };
}
