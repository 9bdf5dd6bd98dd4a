// How does a phrase go on after its first action? First action against second, by family.

import { doneAction, familyOf, type ActionWords, type OtherAction, type Side } from "../bout/words";
import { hasTouch } from "../rules";
import { answerGroups, type AnswerCell, type AnswerGroup, type AnswerTable, type AnswerWord } from "./model";
import { entriesOf, type CountedPhrase } from "./phrases";
import { wilson } from "./rates";

const groupOfOther: Readonly<Record<OtherAction, AnswerGroup>> = {
  parry: "parry",
  "counter-parry": "parry",
  beat: "blade",
  "taking the blade": "blade",
  feint: "preparation",
  preparation: "preparation",
  "lean back": "lean",
  "lean in": "lean",
};

/** From fewer phrases than this only counts are given. */
const fewest = 5;

export function answerTable(phrases: readonly CountedPhrase[]): AnswerTable {
  const cells = new Map<string, { first: AnswerWord; second: AnswerWord | null; phrases: CountedPhrase[] }>();
  for (const phrase of phrases) {
    const [one, other] = phrase.row.entry.actions ?? [];
    if (one === undefined) continue;
    const first = answerWord(one);
    const second = other === undefined ? null : answerWord(other);
    const key = `${wordKey(first)}/${wordKey(second)}`;
    const cell = cells.get(key);
    if (cell === undefined) cells.set(key, { first, second, phrases: [phrase] });
    else cell.phrases.push(phrase);
  }
  const found = [...cells.values()].map(({ phrases, ...words }): AnswerCell => {
    const counts = { left: touchesOf(phrases, "left"), right: touchesOf(phrases, "right") };
    const share = (side: Side) => (phrases.length < fewest ? null : wilson(counts[side], phrases.length));
    return {
      ...words,
      phrases: entriesOf(phrases),
      counts,
      touches: { left: share("left"), right: share("right") },
    };
  });
  return {
    firsts: distinct(found.map(({ first }) => first)).filter((word) => word !== null),
    seconds: distinct(found.map(({ second }) => second)),
    cells: found,
  };
}

function touchesOf(phrases: readonly CountedPhrase[], side: Side): readonly number[] {
  return entriesOf(phrases.filter(({ row }) => hasTouch(row.phrase.stands, side)));
}

export function answerWord(words: ActionWords): AnswerWord {
  const { doer, action } = doneAction(words);
  return { doer, group: familyOf(action) ?? groupOfOther[action as OtherAction] };
}

function wordKey(word: AnswerWord | null): string {
  return word === null ? "" : `${word.doer} ${word.group}`;
}

/** Left before right before both, families in the trade's order, nothing last. */
function distinct(words: readonly (AnswerWord | null)[]): readonly (AnswerWord | null)[] {
  const rank = (word: AnswerWord | null) =>
    word === null
      ? Infinity
      : ["left", "right", "both"].indexOf(word.doer) * answerGroups.length + answerGroups.indexOf(word.group);
  return [...new Map(words.map((word) => [wordKey(word), word])).values()].sort((one, other) =>
    rank(one) < rank(other) ? -1 : 1,
  );
}
