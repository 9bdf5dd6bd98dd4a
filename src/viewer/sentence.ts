// The call sentence: which phrase the keys speak of, in what state it is, and what the next keys do.

import type { Item } from "../messages/scene";

/** A hint: the commands whose keys it names, and what they do. */
export interface Hint {
  readonly commands: readonly string[];
  readonly does: string;
}

const attack: Hint = { commands: ["boutline.attack.left", "boutline.attack.right"], does: "attack" };
const parry: Hint = { commands: ["boutline.parry.left", "boutline.parry.right"], does: "parry" };
const valid: Hint = { commands: ["boutline.valid.left", "boutline.valid.right"], does: "lamp" };
const touch: Hint = { commands: ["boutline.touch.left", "boutline.touch.right"], does: "touch" };
const noTouch: Hint = { commands: ["boutline.noTouch"], does: "no touch" };
const appeal: Hint = { commands: ["boutline.appeal.left", "boutline.appeal.right"], does: "appeal" };
const card: Hint = { commands: ["boutline.card.left", "boutline.card.right"], does: "card" };
const takeBack: Hint = { commands: ["boutline.takeBack"], does: "takes back" };
const fence: Hint = { commands: ["boutline.fence"], does: "begins a phrase" };
const halt: Hint = { commands: ["boutline.halt"], does: "halt" };

/** What the keys at hand do next, the likeliest first. */
export function nextKeys(item: Item | undefined, phrase: Item | undefined): readonly Hint[] {
  if (phrase === undefined) return [fence, { commands: ["boutline.note"], does: "note" }];
  const acted = phrase.actions.length > 0;
  if (phrase.state === "open") return [attack, parry, valid, halt, ...(acted ? [takeBack] : [])];
  if (item?.kind === "stop" && item.until === null)
    return [{ commands: ["boutline.halt"], does: "the stop is over" }, fence];
  if (item?.kind === "review")
    return [
      { commands: ["boutline.touch.left", "boutline.touch.right"], does: "the touch that stands" },
      { commands: ["boutline.noTouch"], does: "no touch stands" },
      fence,
    ];
  if (item?.kind === "card")
    return [{ commands: [`boutline.card.${item.side ?? "both"}`], does: "again: the next colour" }, fence];
  if (phrase.state === "waiting") {
    const pending = phrase.fields["award"] === "pending";
    return pending
      ? [appeal, { commands: ["boutline.refereeReview"], does: "review by the referee" }, fence]
      : [
          touch,
          noTouch,
          ...(phrase.lamps === null ? [valid] : []),
          ...(acted ? [takeBack] : [attack]),
          appeal,
        ];
  }
  return [fence, appeal, card, ...(acted ? [takeBack] : [attack])];
}

/** The state of an entry in words; empty for entries that have none. */
export function stateWords(item: Item): string {
  switch (item.state) {
    case "open":
      return "open";
    case "waiting":
      return item.fields["award"] === "pending" ? "waiting for the review" : "waiting for its call";
    case "called":
      return "called";
    case "plain":
      return item.until === null && (item.kind === "stop" || item.kind === "gap") ? "open" : "";
  }
}

/** A sentence in two parts, the call set apart: "left attack; left lamp: " and "touch left". */
export function callApart(sentence: string): readonly [told: string, call: string] {
  const found = /^(.*[:;,] )?((?:no |double )?touch\b.*)$/i.exec(sentence);
  return found === null ? [sentence, ""] : [found[1] ?? "", found[2] ?? ""];
}
