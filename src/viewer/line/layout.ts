// Where everything on the phrase line stands: phrases as blocks above or below the centre line, the referee's signs
// with their words, the drift trace, the ticks of time. Pure geometry; painting is elsewhere.

import type { Head, Item } from "../../messages/scene";

/** The part of the bout shown, in milliseconds, over so many pixels. */
export interface Window {
  readonly from: number;
  readonly to: number;
  readonly width: number;
}

/** Above: the fencer on the left of the screen; below: the one on the right. */
export type Half = "above" | "below" | "across";

export interface Block {
  readonly item: Item;
  readonly x: number;
  readonly width: number;
  readonly half: Half;
  /** A touch, no touch, halted and not called, or not halted. */
  readonly state: "touch" | "none" | "waiting" | "open";
  /** Number of the touch, where there is room for it. */
  readonly label: string;
  readonly picked: boolean;
}

export type Shape = "card" | "review" | "stop" | "bar" | "dot" | "cross";

export interface Sign {
  readonly item: Item;
  readonly x: number;
  /** Right end of a stop or gap, else the same as x. */
  readonly until: number;
  readonly half: Half;
  readonly shape: Shape;
  /** Whole words; empty where there is no room for all of them. */
  readonly words: string;
  readonly wordsAbove: boolean;
  readonly wordsX: number;
}

export interface LineLayout {
  readonly blocks: readonly Block[];
  readonly signs: readonly Sign[];
  /** Drift, as lines of points: x in pixels, along in metres, + towards the right end. */
  readonly drift: readonly (readonly { readonly x: number; readonly along: number }[])[];
  readonly ticks: readonly { readonly x: number; readonly words: string }[];
}

const leastBlock = 3;
const gapBetweenWords = 6;
const nonePicked: ReadonlySet<number> = new Set();

export function xOf(window: Window, at: number): number {
  return ((at - window.from) / (window.to - window.from)) * window.width;
}

export function timeAt(window: Window, x: number): number {
  return window.from + (x / window.width) * (window.to - window.from);
}

/** Lays out what the window shows. `measure` gives the width of words in pixels. */
export function layoutLine(
  items: readonly Item[],
  head: Pick<Head, "mirrored" | "drift">,
  window: Window,
  measure: (words: string) => number,
  picked: ReadonlySet<number> = nonePicked,
): LineLayout {
  const seen = items.filter(
    (item) =>
      item.at <= window.to && (item.until ?? item.at) >= window.from - (window.to - window.from) * 0.1,
  );
  const halfOf = (item: Item): Half =>
    item.side === "left" || item.side === "right"
      ? (item.side === "left") === head.mirrored
        ? "below"
        : "above"
      : "across";
  return {
    blocks: blocksOf(seen, window, halfOf, measure, picked),
    // Where drift is drawn, its points show the platforms.
    signs: signsOf(
      seen.filter(({ kind }) => kind !== "platforms" || head.drift.length === 0),
      window,
      halfOf,
      measure,
    ),
    drift: driftOf(head.drift, window),
    ticks: ticksOf(window),
  };
}

/** The entry drawn nearest to a place on the line, within reach. */
export function itemAt(layout: LineLayout, x: number, above: boolean | undefined): Item | undefined {
  const reach = 5;
  let best: { readonly item: Item; readonly distance: number } | undefined;
  const consider = (item: Item, from: number, to: number, half: Half) => {
    const outside = x < from ? from - x : x > to ? x - to : 0;
    const wrongHalf = above !== undefined && half !== "across" && (half === "above") !== above ? 2 : 0;
    const distance = outside + wrongHalf;
    if (outside <= reach && distance < (best?.distance ?? Infinity)) best = { item, distance };
  };
  for (const sign of layout.signs) consider(sign.item, sign.x - 2, sign.x + 2, sign.half);
  for (const block of layout.blocks) consider(block.item, block.x, block.x + block.width, block.half);
  return best?.item;
}

function blocksOf(
  items: readonly Item[],
  window: Window,
  halfOf: (item: Item) => Half,
  measure: (words: string) => number,
  picked: ReadonlySet<number>,
): Block[] {
  const rightmost = { above: -Infinity, below: -Infinity };
  return items
    .filter(({ kind }) => kind === "phrase")
    .map((item) => {
      const x = xOf(window, item.at);
      const width = Math.max(leastBlock, xOf(window, item.until ?? item.at) - x);
      const touch = item.side !== null && item.state === "called";
      const half = touch ? halfOf(item) : "across";
      const row = half === "below" ? "below" : "above";
      const wide = measure(item.label);
      const left = x + width / 2 - wide / 2;
      const room = touch && item.label !== "" && left > rightmost[row] + gapBetweenWords;
      if (room) rightmost[row] = left + wide;
      return {
        item,
        x,
        width,
        half,
        state: touch
          ? "touch"
          : item.state === "waiting"
            ? "waiting"
            : item.state === "open"
              ? "open"
              : "none",
        label: room ? item.label : "",
        picked: picked.has(item.index),
      };
    });
}

const shapes: Readonly<Record<string, Shape>> = {
  card: "card",
  review: "review",
  stop: "stop",
  gap: "stop",
  opening: "bar",
  period: "bar",
  draw: "bar",
  end: "bar",
  correction: "bar",
};
/** Kinds whose words are shown; the others only get a small mark. */
const spoken = new Set(["card", "review", "stop", "gap", "opening", "period", "draw", "end", "correction"]);
const crosses = new Set(["fit", "platforms"]);

function signsOf(
  items: readonly Item[],
  window: Window,
  halfOf: (item: Item) => Half,
  measure: (words: string) => number,
): Sign[] {
  const rightmost = { above: -Infinity, below: -Infinity };
  return items
    .filter(({ kind }) => kind !== "phrase")
    .map((item) => {
      const x = xOf(window, item.at);
      const half = halfOf(item);
      const wide = measure(item.label);
      const left = Math.min(Math.max(0, x - wide / 2), Math.max(0, window.width - wide));
      const inView = x >= 0 && x <= window.width;
      const rows = half === "across" ? (["above", "below"] as const) : ([half] as const);
      const row =
        spoken.has(item.kind) && item.label !== "" && inView
          ? rows.find((one) => left > rightmost[one] + gapBetweenWords)
          : undefined;
      if (row !== undefined) rightmost[row] = left + wide;
      return {
        item,
        x,
        until: item.until === null ? x : xOf(window, item.until),
        half,
        shape: crosses.has(item.kind) ? "cross" : (shapes[item.kind] ?? "dot"),
        words: row === undefined ? "" : item.label,
        wordsAbove: row !== "below",
        wordsX: left,
      };
    });
}

function driftOf(drift: Head["drift"], window: Window): LineLayout["drift"] {
  const lines: { x: number; along: number }[][] = [];
  for (const { at, along, broken } of drift) {
    if (broken || lines.length === 0) lines.push([]);
    lines.at(-1)?.push({ x: xOf(window, at), along });
  }
  return lines;
}

const tickSteps = [1, 2, 5, 10, 15, 30, 60, 120, 300, 600, 900, 1800, 3600];
const leastTickGap = 70;

function ticksOf(window: Window): LineLayout["ticks"] {
  const perSecond = (window.width / (window.to - window.from)) * 1000;
  const step = tickSteps.find((seconds) => seconds * perSecond >= leastTickGap) ?? 3600;
  const ticks = [];
  for (let second = Math.ceil(window.from / 1000 / step) * step; second * 1000 <= window.to; second += step)
    ticks.push({ x: xOf(window, second * 1000), words: clockWords(second) });
  return ticks;
}

function clockWords(seconds: number): string {
  const two = (value: number): string => String(value).padStart(2, "0");
  const hours = Math.floor(seconds / 3600);
  const rest = `${two(Math.floor(seconds / 60) % 60)}:${two(seconds % 60)}`;
  return hours === 0 ? `${Math.floor(seconds / 60)}:${two(seconds % 60)}` : `${hours}:${rest}`;
}
