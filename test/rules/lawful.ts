// Bouts as the rules allow them: a referee who follows an edition to the letter, and keeps the score in a way of his own.
// Numbers drawn at random decide what happens; whatever they are, the bout is lawful.

import fc from "fast-check";
import { formatTime, type Milliseconds } from "../../src/bout/time";
import { formats, weapons, type CardColour, type Format, type Weapon } from "../../src/bout/words";
import { editions, type Edition, type Offence } from "../../src/rules";
import type { Written } from "./bouts";

type Side = "left" | "right";
const pair: readonly Side[] = ["left", "right"];
const other = (side: Side): Side => (side === "left" ? "right" : "left");

export interface LawfulBout {
  readonly edition: Edition;
  readonly weapon: Weapon;
  readonly format: Format;
  readonly video: boolean;
  readonly log: readonly Written[];
  readonly score: readonly [number, number];
  readonly winner: Side | undefined;
}

export const lawfulBout: fc.Arbitrary<LawfulBout> = fc
  .record({
    edition: fc.constantFrom(...editions.values()),
    weapon: fc.constantFrom(...weapons),
    format: fc.constantFrom(...formats),
    video: fc.boolean(),
    seed: fc.integer(),
    // Some recordings stop early.
    steps: fc.constantFrom(3, 30, 400, 400, 400),
    tempo: fc.constantFrom(2, 6, 20),
    caution: fc.constantFrom(0, 10, 60, 300),
  })
  .map(({ edition, weapon, format, video, ...manner }) =>
    new Referee(edition, weapon, format, video, manner).bout(),
  );

interface Manner {
  /** Decides what happens. */
  readonly seed: number;
  readonly steps: number;
  /** Seconds of the longest phrase. */
  readonly tempo: number;
  /** How many phrases bring nothing, against ten that may bring something. */
  readonly caution: number;
}

class Referee {
  private readonly log: Written[] = [];
  private now = 1000;
  private readonly score = { left: 0, right: 0 };
  private readonly held: Record<Side, CardColour[]> = { left: [], right: [] };
  private readonly thirdGroup = { left: 0, right: 0 };
  private readonly appeals: Record<Side, number>;
  private period: number | "extra" = 1;
  private fenced = 0;
  private sinceHit = 0;
  private pCards = 0;
  private priority: Side | undefined;
  private winner: Side | undefined;
  private over = false;
  private random: number;

  private readonly edition: Edition;
  private readonly weapon: Weapon;
  private readonly format: Format;
  private readonly video: boolean;
  private readonly manner: Manner;

  constructor(edition: Edition, weapon: Weapon, format: Format, video: boolean, manner: Manner) {
    this.edition = edition;
    this.weapon = weapon;
    this.format = format;
    this.video = video;
    this.manner = manner;
    this.random = manner.seed;
    const appeals = video ? (this.rules.appeals.value ?? 0) : 0;
    this.appeals = { left: appeals, right: appeals };
  }

  bout(): LawfulBout {
    for (let step = 0; !this.isOver() && step < this.manner.steps; step++) {
      if (this.draw(25) === 0) this.card();
      else this.phrase();
      if (!this.isOver() && this.draw(8) === 0)
        this.log.push({ kind: "board", at: this.time(), score: [this.score.left, this.score.right] });
    }
    const { edition, weapon, format, video, log, score, winner } = this;
    return { edition, weapon, format, video, log, score: [score.left, score.right], winner };
  }

  private get rules() {
    return this.edition.formats[this.format];
  }

  private draw(of: number): number {
    // A generator of evenly spread numbers that fits in a line; what it is like does not matter here.
    this.random = (Math.imul(this.random ^ (this.random >>> 15), 0x2c1b3c6d) + 0x9e3779b9) | 0;
    return ((this.random ^ (this.random >>> 13)) >>> 1) % of;
  }

  private side(): Side {
    return this.draw(2) === 0 ? "left" : "right";
  }

  private time(after = 200): string {
    this.now += after;
    return formatTime(this.now as Milliseconds);
  }

  private phrase(): void {
    const limit = this.period === "extra" ? this.rules.extraSeconds.value : this.rules.periodSeconds.value;
    const left = limit === null ? Infinity : limit * 1000 - this.fenced;
    const { unwillingness } = this.edition;
    const watched = unwillingness.formats.includes(this.format) && this.period !== "extra";
    const minute = unwillingness.seconds * 1000 - this.sinceHit;
    const wanted = (1 + this.draw(this.manner.tempo)) * 1000;
    const lasts = Math.min(wanted, left, watched && !this.oneTouchDecides() ? minute : Infinity);
    const outOfTime = lasts === left && wanted >= left;
    const start = this.time();
    this.fenced += lasts;
    this.sinceHit += lasts;
    this.act(start, this.time(lasts));
    if (this.isOver()) return;
    if (watched && this.sinceHit >= unwillingness.seconds * 1000 && !this.oneTouchDecides()) this.unwilling();
    if (!this.isOver() && outOfTime) this.timeIsUp();
  }

  /** What happens in a phrase, and what is given for it. */
  private act(start: string, halt: string): void {
    const happens = this.draw(10 + this.manner.caution);
    const side = this.side();
    const both = { left: "valid", right: "valid" };
    const entry = (fields: Written) => this.log.push({ kind: "phrase", start, halt, ...fields });
    if (happens < 4) {
      this.touch(entry, [side], { [side]: "valid" });
    } else if (happens < 6) {
      if (this.weapon !== "epee") this.touch(entry, [side], both);
      else if (this.everyTouchDecides())
        entry({ award: "none", because: "double at the deciding touch", lamps: both });
      else this.touch(entry, pair, both);
    } else if (happens === 6 && this.weapon === "foil") {
      entry({ award: "none", because: "off-target", lamps: { [side]: "off-target" } });
      this.sinceHit = 0;
    } else if (happens === 7) {
      entry({
        award: side,
        lamps: { [side]: "valid" },
        play: false,
        annulled: side,
        for: "before play",
      });
      // No command, so no time.
      const lasted = this.lastedOf(start, halt);
      this.fenced -= lasted;
      this.sinceHit = 0;
    } else {
      entry({ award: "none", because: "no lamp", lamps: {} });
    }
  }

  private lastedOf(start: string, halt: string): number {
    const ms = (time: string) => time.split(":").reduce((sum, part) => sum * 60 + Number(part), 0) * 1000;
    return Math.round(ms(halt) - ms(start));
  }

  private touch(entry: (fields: Written) => void, sides: readonly Side[], lamps: Written): void {
    const [side = "left"] = sides;
    const award = sides.length === 2 ? "both" : side;
    const decides = this.video && sides.length === 1 && this.level() && this.decides(side);
    const looked = this.draw(5);
    if (decides) {
      entry({ award: "pending", lamps });
      this.log.push({ kind: "review", at: this.time(), by: "level score", result: "decided", award });
      this.give(sides);
    } else if (this.video && sides.length === 1 && looked === 0) {
      entry({ award, lamps });
      this.review(side);
    } else {
      entry({ award, lamps });
      this.give(sides);
    }
  }

  /** An appeal against the touch of `side`; it falls or stands. */
  private review(side: Side): void {
    const asks = other(side);
    const changed = this.draw(2) === 0;
    const by = this.appeals[asks] > 0 ? asks : "referee";
    if (!changed) {
      if (by !== "referee") this.appeals[asks]--;
      this.log.push({
        kind: "review",
        at: this.time(),
        by,
        result: "kept",
        award: side,
        ...(by === "referee" ? {} : { appeal: "lost" }),
      });
      this.give([side]);
      return;
    }
    this.log.push({ kind: "review", at: this.time(), by, result: "changed", award: "none" });
    // The minute goes on or not, as nobody can say whether this was a hit: the next one starts it for certain.
  }

  private give(sides: readonly Side[]): void {
    for (const side of sides) this.score[side]++;
    this.sinceHit = 0;
    this.afterScore();
  }

  private afterScore(): void {
    const { touches, sabreBreak } = this.rules;
    const [left, right] = [this.score.left, this.score.right];
    const most = Math.max(left, right);
    if (touches.value !== null && most >= touches.value && left !== right)
      this.end("touches", left > right ? "left" : "right");
    else if (this.period === "extra" && left !== right)
      this.end("deciding touch", left > right ? "left" : "right");
    else if (
      this.weapon === "sabre" &&
      sabreBreak.value !== null &&
      this.period === 1 &&
      most >= sabreBreak.value
    )
      this.startPeriod(2);
  }

  private card(): void {
    const side = this.side();
    const last = this.log.findLast(({ kind }) => kind === "phrase");
    const possible = this.edition.offences.filter(
      (offence) =>
        offence.offPiste !== true &&
        (offence.weapons === undefined || offence.weapons.includes(this.weapon)) &&
        !(offence.standing === true && this.edition.seated.value) &&
        // The touch of a phrase above is not this offence's.
        !(offence.annuls && last !== undefined && last["award"] !== "none") &&
        (offence.group < 4 || this.draw(6) === 0),
    );
    const offence = possible[this.draw(Math.max(1, possible.length))];
    if (offence === undefined) return;
    const colour = this.cardFor(offence, side);
    const at = this.time();
    this.log.push({ kind: "card", at, to: side, card: colour, for: offence.name });
    this.held[side].push(colour);
    if (colour === "black") this.end("exclusion", other(side));
    if (colour !== "red") return;
    this.score[other(side)]++;
    this.sinceHit = 0;
    this.afterScore();
  }

  /** FIE t.165 to t.169, as read in the book and not through the edition's data. */
  private cardFor({ group }: Offence, side: Side): CardColour {
    switch (group) {
      case 1:
        return this.held[side].length === 0 ? "yellow" : "red";
      case 2:
        return "red";
      case 3:
        return ++this.thirdGroup[side] === 1 ? "red" : "black";
      case 4:
        return "black";
    }
  }

  private unwilling(): void {
    const { steps } = this.edition.unwillingness;
    const card = steps[Math.min(this.pCards, steps.length - 1)] ?? "P-black";
    this.pCards++;
    this.sinceHit = 0;
    if (card === "P-black") {
      // At a level score the lower in the ranking; these fencers have no ranking, so either will do.
      const loser = this.score.left < this.score.right ? "left" : this.level() ? this.side() : "right";
      this.log.push({ kind: "card", at: this.time(), to: loser, card });
      this.end("P-black", other(loser));
      return;
    }
    this.log.push({ kind: "card", at: this.time(), to: "both", card });
    if (card !== "P-red") return;
    this.score.left++;
    this.score.right++;
    this.afterScore();
  }

  private timeIsUp(): void {
    const { periods } = this.rules;
    if (this.period === "extra") {
      this.end("priority", this.priority ?? "left");
    } else if (periods.value !== null && this.period < periods.value) {
      this.startPeriod(this.period + 1);
    } else if (!this.level()) {
      this.end("time", this.score.left > this.score.right ? "left" : "right");
    } else {
      this.priority = this.side();
      this.log.push({ kind: "draw", at: this.time(), to: this.priority });
      this.startPeriod("extra");
    }
  }

  private startPeriod(number: number | "extra"): void {
    this.period = number;
    this.fenced = 0;
    this.sinceHit = 0;
    this.log.push({ kind: "period", at: this.time(60_000), number });
  }

  private end(by: string, winner: Side): void {
    this.over = true;
    this.winner = winner;
    this.log.push({ kind: "end", at: this.time(), by, winner });
  }

  private isOver(): boolean {
    return this.over;
  }

  private level(): boolean {
    return this.score.left === this.score.right;
  }

  private decides(side: Side): boolean {
    const { value } = this.rules.touches;
    return (
      this.format !== "training" &&
      (this.period === "extra" || (value !== null && this.score[side] === value - 1))
    );
  }

  private everyTouchDecides(): boolean {
    return this.level() && this.decides("left");
  }

  private oneTouchDecides(): boolean {
    const { value } = this.rules.touches;
    return value !== null && pair.every((side) => this.score[side] === value - 1);
  }
}
