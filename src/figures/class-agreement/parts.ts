// The parts of an answer: the word each says, so that two answers can be held side by side, and the marks it earns.

import { canScore, doneAction, type ActionWords } from "../../bout/words";
import type { Answer, Paper } from "../seminar-format";

export interface Part {
  readonly name: string;
  readonly title: string;
  readonly paper: Paper;
  /** Null where the part was not answered. */
  readonly word: (answer: Answer) => string | null;
  /** From 0 to 1; the reference has answered this part. */
  readonly mark: (answer: Answer, reference: Answer) => number;
}

const exact =
  (word: Part["word"]): Part["mark"] =>
  (answer, reference) =>
    word(answer) === word(reference) ? 1 : 0;

function part(
  name: string,
  title: string,
  paper: Paper,
  word: Part["word"],
  mark: Part["mark"] = exact(word),
): Part {
  return { name, title, paper, word, mark };
}

const offence = ({ card }: Answer): string | null =>
  card === null
    ? null
    : card === "none"
      ? "no offence"
      : `${card.group === null ? "no group" : `group ${card.group}`}, ${card.to}`;
const sanction = ({ card }: Answer): string | null =>
  card === null ? null : card === "none" ? "no card" : card.card;

const hit = ({ hit: said }: Answer): string | null =>
  said === null || said.left === null || said.right === null
    ? null
    : `left ${said.left}, right ${said.right}`;

/** Half a mark for each side. */
function hitMark({ hit: said }: Answer, { hit: right }: Answer): number {
  const same = (side: "left" | "right") => said !== null && said[side] === (right?.[side] ?? null);
  return (same("left") ? 0.5 : 0) + (same("right") ? 0.5 : 0);
}

/** Actions named in the right order, of the longer of the two lists. */
function actionsMark({ actions: said }: Answer, { actions: right }: Answer): number {
  if (said === null || right === null) return 0;
  const longer = Math.max(said.length, right.length);
  return longer === 0 ? 1 : inOrder(said, right) / longer;
}

/** Length of the longest series that both lists hold in the same order. */
function inOrder(one: readonly string[], other: readonly string[]): number {
  let before = new Array<number>(other.length + 1).fill(0);
  for (const word of one) {
    const now = [0];
    other.forEach((also, index) =>
      now.push(word === also ? (before[index] ?? 0) + 1 : Math.max(before[index + 1] ?? 0, now[index] ?? 0)),
    );
    before = now;
  }
  return before[other.length] ?? 0;
}

const duty = (name: "lifting" | "feet" | "earlyStart" | "looseChair", title: string): Part =>
  part(name, title, "assistants", (answer) => answer.assistants?.[name] ?? null);

/** In the order a referee gives them. */
export const parts: readonly Part[] = [
  part("why", "why the halt", "referee", ({ why }) => why),
  part("opener", "who opened", "referee", ({ opener }) => opener),
  part(
    "actions",
    "the actions",
    "referee",
    ({ actions }) => (actions === null ? null : actions.join(", ") || "no action"),
    actionsMark,
  ),
  part("hit", "hit valid or not", "referee", hit, hitMark),
  part("award", "whose touch", "referee", ({ award }) => award),
  part("offence", "the offence", "referee", offence),
  part("card", "the card", "referee", sanction),
  duty("lifting", "lifting"),
  duty("feet", "feet"),
  duty("earlyStart", "early start"),
  duty("looseChair", "loose chair"),
];

/** Said wherever marks are shown. */
export const marksScheme =
  "One mark for each part the reference answers: why the halt, who opened, the actions (those named in the right order, as a share of the longer list), the hit (half for each side), whose touch, the offence and the card; on the assistants' paper one for each duty. A part left out earns nothing. Repeats and clips for discussion earn nothing.";

/** The one word an answer stands or falls by: whose touch, or all duties together. */
export function callOf(answer: Answer | null, paper: Paper): string | null {
  if (answer === null) return null;
  if (paper === "referee") return answer.award;
  const duties = parts.filter((one) => one.paper === "assistants");
  if (duties.some((one) => one.word(answer) === null)) return null;
  return duties.map((one) => `${one.title} ${one.word(answer)}`).join(", ");
}

/** The last action of the answer that can score, which is what the call turns on. */
export function decisiveAction({ actions }: Answer): string | null {
  if (actions === null) return null;
  return actions.findLast((words: ActionWords) => canScore(doneAction(words).action)) ?? "no action";
}
