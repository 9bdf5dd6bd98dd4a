// What is played: on and on, one stretch again and again, or the stretches of some evidence one after another.

export interface Stretch {
  readonly from: number;
  readonly to: number;
}

export type Playing =
  | { readonly what: "on" }
  | { readonly what: "again"; readonly stretch: Stretch }
  | {
      readonly what: "evidence";
      readonly title: string;
      readonly stretches: readonly Stretch[];
      readonly index: number;
      readonly done: boolean;
    };

/** What to do about the frame now on screen; nothing is the usual answer. */
export type Order =
  { readonly do: "nothing" } | { readonly do: "jump"; readonly to: number } | { readonly do: "stop" };

/** Lead-in and run-out around a phrase played again and again, in milliseconds. */
const lead = 400;
const runOut = 700;
/** How much of a phrase without a halt is played, in milliseconds. */
const openLength = 6000;

export function stretchOf(item: { readonly at: number; readonly until: number | null }): Stretch {
  return { from: Math.max(0, item.at - lead), to: (item.until ?? item.at + openLength) + runOut };
}

/** Works out, for the frame shown at `at` milliseconds while playing, where to go next. */
export function onFrame(playing: Playing, at: number): readonly [Playing, Order] {
  if (playing.what === "again")
    return [playing, at >= playing.stretch.to ? { do: "jump", to: playing.stretch.from } : { do: "nothing" }];
  if (playing.what === "on" || playing.done) return [playing, { do: "nothing" }];
  const current = playing.stretches[playing.index];
  if (current !== undefined && at < current.to) return [playing, { do: "nothing" }];
  return nextStretch(playing);
}

/** Leaves the stretch being played for the next one of the evidence; stops after the last. */
export function nextStretch(playing: Playing): readonly [Playing, Order] {
  if (playing.what !== "evidence") return [playing, { do: "nothing" }];
  const next = playing.stretches[playing.index + 1];
  return next === undefined
    ? [{ ...playing, done: true }, { do: "stop" }]
    : [
        { ...playing, index: playing.index + 1 },
        { do: "jump", to: next.from },
      ];
}

/** A line for the picture: what is being played and how far it is. Empty while playing on and on. */
export function caption(playing: Playing): string {
  if (playing.what === "on") return "";
  if (playing.what === "again") return "this phrase again and again";
  const { title, index, stretches, done } = playing;
  return done ? `${title}: all ${stretches.length} played` : `${title}: ${index + 1} of ${stretches.length}`;
}
