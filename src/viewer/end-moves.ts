// The keys that move the beginning or the end of the entry in hand by one frame, and show the frame it moved to.

import { formatTime, type Milliseconds } from "../bout/time";
import type { ToHost } from "../messages/contract";
import { Adjuster, endField, type Move } from "./adjuster";
import { itemInHand, type HeldScene } from "./held-scene";
import type { Clock } from "./picture/clock";

export interface EndMovesNeeds {
  clock(): Clock;
  scene(): HeldScene | undefined;
  post(message: ToHost): void;
  fault(message: string): void;
}

export class EndMoves {
  readonly #needs: EndMovesNeeds;
  readonly #adjuster = new Adjuster();

  constructor(needs: EndMovesNeeds) {
    this.#needs = needs;
  }

  move(end: "beginning" | "end", frames: -1 | 1): void {
    const scene = this.#needs.scene();
    const clock = this.#needs.clock();
    if (scene?.head.editable !== true) return;
    const now = performance.now();
    const underWay = this.#adjuster.current(now);
    const item = underWay?.item ?? itemInHand(scene.items, clock.at);
    if (item === undefined) {
      this.#needs.fault("There is no entry at or before this frame.");
      return;
    }
    const field = endField(item.kind, end);
    if (field === undefined) {
      this.#needs.fault("This entry has no end to move.");
      return;
    }
    const until = scene.items.find(({ index }) => index === item.index)?.until ?? null;
    const from = underWay?.field === field ? underWay.at : end === "beginning" ? item.at : until;
    if (from === null) {
      this.#needs.fault("This entry is still open: its end is set by halt.");
      return;
    }
    const at = clock.beside(from, frames);
    clock.pause();
    clock.show(at);
    this.#send(this.#adjuster.ask({ item, field, at }, now));
  }

  /** A new scene is held. */
  sceneArrived({ items }: HeldScene): void {
    this.#send(this.#adjuster.arrived(items, performance.now()));
  }

  #send(move: Move | undefined): void {
    if (move === undefined) return;
    this.#needs.post({
      type: "field",
      version: this.#needs.scene()?.version ?? 0,
      index: move.item.index,
      field: move.field,
      value: formatTime(move.at as Milliseconds),
    });
  }
}
