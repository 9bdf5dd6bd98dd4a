// When everything in the demo happens, in frames: the items of the scenario one after another, the instants of every action
// within its phrase, what the scoreboard shows, the running score, and the clock.
//
// The score here is the tests' independent one: touches that stood in the end, plus one for the opponent of a red card.
import { framesPerSecond, items } from "./scenario.mjs";

/** Frames from the halt until the next item: the referee's halt, then the call. */
const callLasts = 15;
/** Frames before a command to fence in which the referee asks "Ready?" and the fencers come on guard. */
export const readyLasts = 13;
/** Frames from a halt until the table has entered the touch. */
const boardDelay = 9;
/** Frames from the last action's end (the lamp) to the command to halt. */
const haltDelay = 5;
const lull = 4;
const sharing = new Set(["counter-attack", "stop hit", "lean back"]);
const weights = {
  "point in line": 1.3,
  feint: 0.7,
  beat: 0.7,
  parry: 0.7,
  preparation: 1.1,
  "taking the blade": 0.8,
};

/** Every action of a phrase with its window in frames; a counter-attack or a lean back shares the window of the action it meets. */
function timedActions(phrase, start, halt) {
  const from = start + lull;
  const to = halt - haltDelay;
  const steps = [];
  for (const text of phrase.actions) {
    const space = text.indexOf(" ");
    const action = { side: text.slice(0, space), name: text.slice(space + 1) };
    const alone = !sharing.has(action.name) || steps.length === 0;
    if (alone) steps.push([action]);
    else steps[steps.length - 1].push(action);
  }
  const weight = steps.map(([first]) => weights[first.name] ?? 1);
  const total = weight.reduce((sum, value) => sum + value, 0);
  let at = from;
  return steps.flatMap((step, index) => {
    const begin = at;
    at += ((to - from) * weight[index]) / total;
    return step.map((action) => ({ ...action, from: Math.round(begin), to: Math.round(at) }));
  });
}

function laidOut() {
  const events = [];
  let at = 0;
  for (const item of items) {
    if (item.kind === "phrase") {
      const start = at + readyLasts;
      const halt = start + item.lasts;
      events.push({
        ...item,
        ready: at,
        start,
        halt,
        touch: halt - haltDelay,
        timed: timedActions(item, start, halt),
      });
      at = halt + callLasts;
    } else {
      events.push({ ...item, at, until: at + (item.lasts ?? 0) });
      at += item.lasts ?? 0;
    }
  }
  return { events, frames: at };
}

const { events, frames } = laidOut();
export { events, frames };
export const phrases = events.filter((event) => event.kind === "phrase");

const one = (side) => [
  side === "left" || side === "both" ? 1 : 0,
  side === "right" || side === "both" ? 1 : 0,
];
const plus = (score, [l, r], times = 1) => [score[0] + times * l, score[1] + times * r];

/** Changes of the score: `true` as the rules have it once the officials have spoken, `shown` as on the scoreboard. */
function scoreChanges() {
  const changes = [{ at: 0, score: [0, 0], shown: [0, 0] }];
  let score = [0, 0];
  let shown = [0, 0];
  let last;
  const add = (at, nextShown = score) => {
    shown = nextShown;
    changes.push({ at, score, shown });
  };
  for (const event of events) {
    if (event.kind === "phrase") {
      last = { award: event.award, annulled: event.annulled };
      score = plus(score, one(event.award));
      if (event.award !== "none" && event.award !== "pending") {
        add(event.halt + boardDelay, event.scoreboardForgets ? shown : score);
      }
      if (event.annulled !== undefined) last.annul = one(event.annulled);
    } else if (event.kind === "review" && event.award !== undefined) {
      score = plus(plus(score, one(last.award), -1), one(event.award));
      last.award = event.award;
      add(event.until - 14);
    } else if (event.kind === "card") {
      if (last?.annul !== undefined) score = plus(score, last.annul, -1);
      if (event.card === "red") score = plus(score, one(event.to === "left" ? "right" : "left"));
      add(event.at + 20);
      last = undefined;
    } else if (event.kind === "stop" && event.scoreboardPutRight) {
      add(event.at + 18);
    }
  }
  return changes;
}

const changes = scoreChanges();

/** The score at a frame: `score` is the true one, `shown` what the scoreboard says. */
export function scoreAt(frame) {
  let found = changes[0];
  for (const change of changes) if (change.at <= frame) found = change;
  return { score: found.score, shown: found.shown };
}

/** The score the bout ends with. */
export const finalScore = changes[changes.length - 1].score;

/** The lamps lit at a frame, by side: from the touch until the fencers are asked to be ready again. */
export function lampsAt(frame) {
  const index = phrases.findLastIndex((phrase) => phrase.touch <= frame);
  const phrase = phrases[index];
  if (phrase === undefined) return {};
  const next = phrases[index + 1]?.ready ?? frames;
  return frame < Math.min(next, phrase.halt + 46) ? phrase.lamps : {};
}

/** Seconds left on the clock at a frame (three minutes a period), and the period. It runs between the commands only. */
export function clockAt(frame) {
  let period = 1;
  let used = 0;
  for (const event of events) {
    if (event.kind === "period" && event.at + 20 <= frame) {
      period = event.number;
      used = 0;
    }
    if (event.kind === "phrase" && event.play !== false && event.start < frame) {
      used += Math.min(frame, event.halt) - event.start;
    }
  }
  return { period, left: 180 - used / framesPerSecond };
}

/** The clock as the scoreboard writes it: minutes and whole seconds, a begun second still shown. */
export function clockText(frame) {
  const seconds = Math.ceil(clockAt(frame).left - 1e-9);
  return `${Math.floor(seconds / 60)}:${String(seconds % 60).padStart(2, "0")}`;
}

/** A frame's presentation time as the bout file writes it. */
export function timeText(frame) {
  const milliseconds = Math.round((frame * 1000) / framesPerSecond);
  const pad = (value, digits) => String(value).padStart(digits, "0");
  const seconds = Math.floor(milliseconds / 1000);
  return `${Math.floor(seconds / 3600)}:${pad(Math.floor(seconds / 60) % 60, 2)}:${pad(seconds % 60, 2)}.${pad(milliseconds % 1000, 3)}`;
}
