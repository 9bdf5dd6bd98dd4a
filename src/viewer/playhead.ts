// Where the playhead goes: to a time, an entry, the next call waiting, round and round a phrase, or through evidence.

import type { Stamp } from "../messages/contract";
import { neighbour, nextWaiting, phraseInHand, type HeldScene } from "./held-scene";
import type { Clock } from "./picture/clock";
import {
  caption,
  nextStretch,
  onFrame,
  stretchOf,
  type Order,
  type Playing,
  type Stretch,
} from "./picture/playback";

export interface PlayheadNeeds {
  clock(): Clock;
  scene(): HeldScene | undefined;
  say(severity: "error" | "note", message: string): void;
  /** What is being played has changed. */
  changed(): void;
  /** The stretches the host asked for under this number were all played, or left. */
  played(run: number, how: "all" | "left"): void;
}

/** How long the frame of the entry last gone to may take to come, in milliseconds. */
const stillComing = 700;

export class Playhead {
  /** The entry last gone to by its neighbour, in milliseconds of the bout, and when that was. */
  #sentTo = 0;
  #sentAt = -Infinity;
  readonly #needs: PlayheadNeeds;
  #playing: Playing = { what: "on" };
  /** The number the host gave to what is being played. */
  #run: number | undefined;

  constructor(needs: PlayheadNeeds) {
    this.#needs = needs;
  }

  get again(): boolean {
    return this.#playing.what === "again";
  }

  /** The frame on screen, as a stamp. */
  get stamp(): Stamp {
    const { at, frame } = this.#needs.clock();
    return { at, frame: Math.max(0.1, frame) };
  }

  /** A line about what is being played, with the buttons that go with it. */
  get caption(): readonly [words: string, buttons: readonly (readonly [string, () => void])[]] {
    const playing = this.#playing;
    const leave = ["leave", () => this.leave()] as const;
    const next = ["next", () => this.#obey(...nextStretch(playing))] as const;
    const more = playing.what === "evidence" && !playing.done && playing.stretches.length > 1;
    return [caption(playing), playing.what === "on" ? [] : more ? [next, leave] : [leave]];
  }

  toggle(): void {
    const clock = this.#needs.clock();
    if (clock.playing) clock.pause();
    else clock.play();
  }

  step(frames: number): void {
    this.#sentAt = -Infinity;
    if (this.#playing.what === "evidence") this.leave();
    this.#needs.clock().step(frames);
  }

  /** Goes to a time the user chose; what was being played in a loop is over unless the time lies in it. */
  goTo(at: number): void {
    const playing = this.#playing;
    const inside = playing.what === "again" && at >= playing.stretch.from && at <= playing.stretch.to;
    if (!inside) this.leave();
    this.#sentAt = -Infinity;
    this.#needs.clock().show(Math.max(0, at));
  }

  /** Pressed again before the last entry's frame has come, it goes on from that entry. */
  toNeighbour(direction: -1 | 1): void {
    const now = performance.now();
    const from = now - this.#sentAt < stillComing ? this.#sentTo : this.#needs.clock().at;
    const at = neighbour(this.#needs.scene()?.items ?? [], from, direction);
    if (at === undefined) return;
    this.goTo(at);
    this.#sentTo = at;
    this.#sentAt = now;
  }

  toWaiting(): void {
    const item = nextWaiting(this.#needs.scene()?.items ?? [], this.#needs.clock().at);
    if (item === undefined) this.#needs.say("note", "No call is waiting.");
    else this.goTo(item.at);
  }

  /** Plays the phrase in hand again and again; the second time it lets go of it. */
  toggleAgain(): void {
    if (this.again) {
      this.leave();
      return;
    }
    const clock = this.#needs.clock();
    const phrase = phraseInHand(this.#needs.scene()?.items ?? [], clock.at);
    if (phrase === undefined) {
      this.#needs.say("error", "No phrase has begun before this frame.");
      return;
    }
    const stretch = stretchOf(phrase);
    this.#set({ what: "again", stretch });
    clock.show(stretch.from);
    clock.play();
  }

  /** No stretches: stops. */
  playEvidence(title: string, stretches: readonly Stretch[], run?: number): void {
    const [first] = stretches;
    if (first === undefined) {
      this.#needs.clock().pause();
      this.leave();
      return;
    }
    this.#ended("left");
    this.#run = run;
    this.#set({ what: "evidence", title, stretches, index: 0, done: false });
    this.#needs.clock().show(first.from);
    this.#needs.clock().play();
  }

  /** Plays on and on from here. */
  leave(): void {
    if (this.#playing.what !== "on") this.#set({ what: "on" });
  }

  /** To be called for every frame shown. */
  frameShown(): void {
    const { at, playing } = this.#needs.clock();
    if (!playing) return;
    const [next, order] = onFrame(this.#playing, at);
    if (order.do !== "nothing") this.#obey(next, order);
  }

  #obey(playing: Playing, order: Order): void {
    if (order.do === "jump") this.#needs.clock().show(order.to);
    if (order.do === "stop") this.#needs.clock().pause();
    if (playing !== this.#playing) this.#set(playing);
  }

  #ended(how: "all" | "left"): void {
    const run = this.#run;
    this.#run = undefined;
    if (run !== undefined) this.#needs.played(run, how);
  }

  #set(playing: Playing): void {
    this.#playing = playing;
    if (playing.what !== "evidence") this.#ended("left");
    else if (playing.done) this.#ended("all");
    this.#needs.changed();
  }
}
