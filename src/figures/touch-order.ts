// Do touches come in runs, or in any order? What was seen beside all orders of the same touches. Shares such as "scores
// after being hit" can't be held against one half: even for a fair coin they lie below it in a finite series (Miller
// and Sanjurjo, Econometrica 86 (2018) 2019-2047).

import { sides, type Side } from "../bout/words";
import {
  allOrders,
  atLeast,
  drawnOrders,
  meanOf,
  middle,
  orderFigures,
  twoSided,
  type Distribution,
} from "../statistics";
import type { AgainstShuffles, TouchOrder } from "./model";
import { forBoth } from "./opened";
import type { CountedPhrase } from "./phrases";
import type { Entries } from "./rates";

/** Null where not both sides have a touch of their own. Touches for both at once are left out. */
export function touchOrder(phrases: readonly CountedPhrase[]): TouchOrder | null {
  const touches = phrases.filter(({ outcome }) => outcome.left === "for" || outcome.right === "for");
  const isLeft = ({ outcome }: CountedPhrase) => outcome.left === "for";
  const won = forBoth((side) => entries(touches.filter(({ outcome }) => outcome[side] === "for")));
  if (won.left.length === 0 || won.right.length === 0) return null;
  const stretches = inStretches(touches);
  const pattern = stretches.map((stretch) => stretch.map(isLeft));
  const unbroken = stretches.length === 1;
  const seen = orderFigures(pattern);
  const by = unbroken ? allOrders(won.left.length, won.right.length) : drawnOrders(pattern);
  const place = (side: Side) => sides.indexOf(side) as 0 | 1;
  const { begins, after, longest } = evidence(stretches, isLeft);
  return {
    touches: won,
    orders: unbroken ? "all" : "drawn",
    runs: against(seen.runs, by.runs, begins),
    longest: forBoth((side) => against(seen.longest[place(side)], by.longest[place(side)], longest[side])),
    afterHit: forBoth((side) =>
      against(seen.afterOther[place(side)], by.afterOther[place(side)], after[side].hit),
    ),
    afterScoring: forBoth((side) =>
      against(seen.afterSame[place(side)], by.afterSame[place(side)], after[side].scoring),
    ),
    p: {
      runs: twoSided(by.runs, seen.runs),
      longest: forBoth((side) => atLeast(by.longest[place(side)], seen.longest[place(side)])),
    },
  };
}

function against(count: number, by: Distribution, behind: Entries): AgainstShuffles {
  return { count, expected: meanOf(by), usual: middle(by), entries: behind };
}

function inStretches(touches: readonly CountedPhrase[]): readonly (readonly CountedPhrase[])[] {
  const stretches = new Map<number, CountedPhrase[]>();
  for (const touch of touches) {
    const stretch = stretches.get(touch.stretch);
    if (stretch === undefined) stretches.set(touch.stretch, [touch]);
    else stretch.push(touch);
  }
  return [...stretches.values()];
}

/** The first touch of each run; the touches straight after one of the other's and of the same side; the longest runs. */
function evidence(
  stretches: readonly (readonly CountedPhrase[])[],
  isLeft: (touch: CountedPhrase) => boolean,
) {
  const begins: number[] = [];
  const after = forBoth(() => ({ hit: [] as number[], scoring: [] as number[] }));
  let longest: Record<Side, number[]> = { left: [], right: [] };
  for (const stretch of stretches) {
    let run: number[] = [];
    stretch.forEach((touch, index) => {
      const side = isLeft(touch) ? "left" : "right";
      const before = stretch[index - 1];
      const goesOn = before !== undefined && isLeft(before) === isLeft(touch);
      if (before !== undefined) after[side][goesOn ? "scoring" : "hit"].push(touch.entry);
      if (!goesOn) {
        begins.push(touch.entry);
        run = [];
      }
      run.push(touch.entry);
      if (run.length > longest[side].length) longest = { ...longest, [side]: [...run] };
    });
  }
  return { begins, after, longest };
}

function entries(touches: readonly CountedPhrase[]): Entries {
  return touches.map(({ entry }) => entry);
}
