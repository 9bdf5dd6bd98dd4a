// The ledger line: the state of the bout at the playhead as a line of text.

import { sides, type Side } from "../bout/words";
import type { Head, Standing } from "../messages/scene";
import { element, fill } from "./dom";
import { fencerOn } from "./pad-plan";

export interface LedgerWords {
  /** Fencers in the order they stand on the screen, with their touches. */
  readonly fencers: readonly [LedgerFencer, LedgerFencer];
  /** What follows, each part a phrase of its own. */
  readonly parts: readonly string[];
}
interface LedgerFencer {
  readonly side: Side;
  readonly name: string;
  readonly score: number;
}

/** Puts a standing into words, the fencer on the screen's left first. */
export function ledgerWords(head: Head, standing: Standing): LedgerWords {
  const order = sides.map((half) => fencerOn(half, head.mirrored));
  const place = (side: Side): 0 | 1 => (side === "left" ? 0 : 1);
  const fencer = (side: Side): LedgerFencer => ({
    side,
    name: head.names[place(side)],
    score: standing.score[place(side)],
  });
  const [first = "left", second = "right"] = order;
  const appeals = order.map((side) => standing.appeals[place(side)]);
  const cards = order.flatMap((side) => {
    const held = standing.cards[place(side)];
    const cost = standing.cost[place(side)];
    if (held.length === 0) return [];
    return [
      `${shortName(head.names[place(side)])} holds ${held.join(", ")}${cost === "" ? "" : `; next group 1 offence: ${cost.replace(", a touch", " and a touch")}`}`,
    ];
  });
  return {
    fencers: [fencer(first), fencer(second)],
    parts: [
      ...(appeals.every((left) => left === null)
        ? []
        : [`appeals ${appeals.map((left) => left ?? "unknown").join(" and ")}`]),
      ...cards,
      `${standing.period === "extra" ? "extra minute" : `period ${standing.period}`}, ${minutes(standing.fenced)} fenced`,
    ],
  };
}

/** Minutes and seconds: "1:12". */
export function minutes(milliseconds: number): string {
  const seconds = Math.floor(milliseconds / 1000);
  return `${Math.floor(seconds / 60)}:${String(seconds % 60).padStart(2, "0")}`;
}

/** The last word of a name, which is how a referee calls a fencer. */
export function shortName(name: string): string {
  return name.trim().split(/\s+/).at(-1) ?? name;
}

export class LedgerLine {
  readonly element = element("header", { class: "ledger" });
  #shown = "";

  show(head: Head, standing: Standing): void {
    const words = ledgerWords(head, standing);
    const key = JSON.stringify(words);
    if (key === this.#shown) return;
    this.#shown = key;
    const [first, second] = words.fencers;
    fill(
      this.element,
      element(
        "h1",
        { class: "score" },
        element("span", { class: "name" }, first.name),
        " ",
        element("b", {}, String(first.score)),
        element("span", { class: "to" }, " to "),
        element("b", {}, String(second.score)),
        " ",
        element("span", { class: "name" }, second.name),
      ),
      element("p", { class: "parts" }, ...words.parts.flatMap((part) => [element("span", {}, part), " "])),
      element("p", { class: "view", hidden: !head.mirrored }, "seen from opposite the referee"),
    );
  }
}
