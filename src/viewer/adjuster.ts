// Moves the beginning or the end of an entry frame by frame. While one move is still on its way to the text, further
// presses add up and go as one move once the text has caught up: the newest wish wins.

import type { Item } from "../messages/scene";

export interface Move {
  readonly item: Pick<Item, "index" | "kind" | "at">;
  readonly field: string;
  /** The new time, in milliseconds. */
  readonly at: number;
}

/** How long a move may be under way before it is given up, in milliseconds. */
const patience = 1500;

/** The field that holds an entry's beginning or end; undefined for kinds without an end. */
export function endField(kind: string, end: "beginning" | "end"): string | undefined {
  if (end === "beginning") return kind === "phrase" ? "start" : "at";
  return kind === "phrase" ? "halt" : kind === "stop" || kind === "gap" ? "until" : undefined;
}

export class Adjuster {
  #sent: Move | undefined;
  #wanted: Move | undefined;
  #since = 0;

  /** The move that is under way, for presses that follow fast. */
  current(now: number): Move | undefined {
    if (now - this.#since > patience) this.forget();
    return this.#wanted ?? this.#sent;
  }

  /** Takes a wish; returns the move to send now, if any. */
  ask(move: Move, now: number): Move | undefined {
    const busy = this.current(now) !== undefined;
    this.#since = now;
    if (busy) {
      this.#wanted = move;
      return undefined;
    }
    this.#sent = move;
    return move;
  }

  /** A new scene has come; returns the move to send next, its entry found again among the items. */
  arrived(items: readonly Item[], now: number): Move | undefined {
    const sent = this.#sent;
    const wanted = this.#wanted;
    this.forget();
    if (sent === undefined || wanted === undefined || wanted.at === sent.at) return undefined;
    const at = sent.field === "at" || sent.field === "start" ? sent.at : sent.item.at;
    const item = items.find((one) => one.kind === sent.item.kind && one.at === at);
    return item === undefined ? undefined : this.ask({ ...wanted, item }, now);
  }

  forget(): void {
    this.#sent = undefined;
    this.#wanted = undefined;
  }
}
