// Which frame was on screen when a key went down? A key takes a while to come round through the editor as a command.
// The page tells of each press, with its frame, as it happens; the command takes its own press back out.

import type { Stamp } from "../messages/contract";

/** A command this late after its key press is not taken for its echo if a newer press is there. Milliseconds. */
const echoWithin = 1500;
/** Older presses never became commands. Milliseconds. */
const forgetAfter = 10_000;
const keptForEachKey = 16;

interface Press {
  readonly code: string;
  readonly stamp: Stamp;
  readonly pressed: number;
}

export class KeyPresses {
  #presses: Press[] = [];

  /** Remembers that a key went down at `now` (milliseconds of any steady clock) while `stamp` was on screen. */
  press(code: string, stamp: Stamp, now: number): void {
    const kept = this.#presses.filter((press) => now - press.pressed <= forgetAfter);
    const alike = kept.filter((press) => press.code === code);
    const dropped = alike.length < keptForEachKey ? undefined : alike[0];
    this.#presses = [...kept.filter((press) => press !== dropped), { code, stamp, pressed: now }];
  }

  /** Takes out the press a command comes from: the oldest recent one, else the newest; undefined where there is none. */
  take(code: string, now: number): Stamp | undefined {
    const alike = this.#presses.filter((press) => press.code === code && now - press.pressed <= forgetAfter);
    const found = alike.find((press) => now - press.pressed <= echoWithin) ?? alike.at(-1);
    if (found === undefined) return undefined;
    this.#presses = this.#presses.filter((press) => press !== found);
    return found.stamp;
  }
}
