// How the two fencers move: every tagged action becomes a movement of trunk, arm and blade within its window.
import { events } from "./timeline.mjs";
import { chair, joints, leanToReach, poses, target, trunk } from "./body.mjs";
import { platformsAt } from "./truth.mjs";
import { Track } from "./track.mjs";

const other = { left: "right", right: "left" };
const sides = ["left", "right"];
const thrusts = new Set([
  ...["attack", "compound attack", "riposte", "counter-riposte", "counter-attack", "stop hit"],
  ...["remise", "redoublement", "reprise", "counter-time"],
]);

const tracks = { left: new Track(poses.rest), right: new Track(poses.rest) };
/** What each side's point is meant for, from a frame on. */
const aims = { left: [{ from: 0, name: "chest" }], right: [{ from: 0, name: "chest" }] };

const aimAt = (side, from, name) => aims[side].push({ from, name });
const aimedFor = (side, frame) => aims[side].findLast((aim) => aim.from <= frame).name;

function both(from, until, pose) {
  for (const side of sides) tracks[side].to(from, until, pose);
}

/** The lean a thrust needs to end at `frame`, against the opponent as planned so far. */
function leanFor(side, frame, name, short) {
  const platforms = platformsAt(frame);
  const seat = chair(other[side], platforms[other[side]]);
  const body = trunk(seat, tracks[other[side]].at(frame));
  return leanToReach(side, platforms[side], target(name, seat, body), 62, short);
}

function thrust(action, lands) {
  const { side, from, to } = action;
  const length = to - from;
  // Who is attacked and does nothing else shies back a little.
  if (lands && !action.contested) tracks[other[side]].to(from + 0.5 * length, to + 2, { lean: -12 });
  const name = aimedFor(side, from);
  const evaded = action.evaded === true;
  const lean = leanFor(side, to, name, lands || evaded ? 0 : 0.05);
  const track = tracks[side];
  const missSide = lands ? 0 : (action.missSide ?? 0);
  track.to(from, from + 0.5 * length, {
    aim: 0.92,
    reach: 0.86,
    lean: 0.3 * lean,
    twist: 48,
    yaw: 0,
    pitch: 3,
  });
  track.to(from, from + 0.5 * length, { missSide, missRise: 0 });
  track.to(from + 0.4 * length, to, { aim: 1, reach: 0.985, lean, twist: 62 });
  if (lands) track.to(to - 2, to, { hit: 1 });
}

/** The defender's blade sweeps the other aside, outwards and up. */
function parry({ side, from, to }) {
  const half = from + 0.6 * (to - from);
  tracks[side].to(from - 3, half, {
    aim: 0,
    forward: 0.26,
    side: 0.16,
    rise: -0.04,
    yaw: 26,
    pitch: 22,
    lean: -8,
    hit: 0,
  });
  const opponent = other[side];
  tracks[opponent].to(from - 1, half, { missSide: -0.3, missRise: 0.6, hit: 0 });
}

const small = {
  beat: ({ side, from, to }) => {
    const middle = (from + to) / 2;
    tracks[side].to(from, middle, { yaw: -20, pitch: 14, forward: 0.33 });
    tracks[side].to(middle, to, { yaw: 12, pitch: 2, forward: 0.38 });
    tracks[other[side]].to(middle, to, { yaw: 24, pitch: 12 });
  },
  feint: ({ side, from, to }) => {
    const middle = (from + to) / 2;
    tracks[side].to(from, middle, { aim: 0.8, reach: 0.8, lean: 4, missSide: 0.14, missRise: 0.14 });
    tracks[side].to(middle, to, { aim: 0.7, missSide: -0.14, missRise: -0.12 });
    tracks[other[side]].to(middle - 2, to + 2, { side: -0.04, yaw: -22, pitch: 14 });
  },
  preparation: ({ side, from, to }) => {
    const middle = (from + to) / 2;
    tracks[side].to(from, middle, { lean: 5, forward: 0.36, pitch: 10 });
    tracks[side].to(middle, to, { lean: -6, forward: 0.28, pitch: 2 });
  },
  "taking the blade": ({ side, from, to }) => {
    const third = (to - from) / 3;
    tracks[side].to(from, from + third, { pitch: 20, yaw: -12, rise: -0.06 });
    tracks[side].to(from + third, to, { pitch: -10, yaw: 18, rise: -0.2, forward: 0.36 });
    tracks[other[side]].to(from + third, to, { pitch: -22, yaw: 22 });
  },
  "point in line": ({ side, from, to }) => {
    tracks[side].to(from, from + 8, { aim: 1, reach: 0.985, lean: 0, twist: 55, missRise: 0.03 });
    tracks[side].to(to, to + 8, { lean: 6 });
  },
  "lean back": ({ side, from, to }) => {
    tracks[side].to(from + 0.35 * (to - from), to, { lean: -19, aim: 0, forward: 0.24, pitch: 16, hit: 0 });
  },
};

/** Where a point lands that lights the white lamp. */
const offTarget = ["thigh", "sleeve", "thigh"];

function fence(phrase, index) {
  const last = {};
  for (const action of phrase.timed) {
    for (const side of sides) if (action.side === side || action.side === "both") last[side] = action;
  }
  for (const side of sides) {
    const lamp = phrase.lamps[side];
    const main =
      phrase.award === side || phrase.lamps[other[side]] === undefined || phrase.award === "pending";
    if (lamp === "off-target") aimAt(side, phrase.ready, offTarget[index % 3]);
    else aimAt(side, phrase.ready, (main && phrase.target) || "shoulder");
  }
  both(phrase.start - 12, phrase.start - 4, poses.guard);
  // Evasions are planned first: a thrust reaches for where the opponent was, and falls short.
  phrase.timed.forEach((action, at) => {
    const actors = action.side === "both" ? sides : [action.side];
    const next = phrase.timed[at + 1];
    for (const side of actors) {
      const alone = { ...action, side };
      if (action.name === "parry" || action.name === "counter-parry") parry(alone);
      else if (thrusts.has(action.name)) {
        const counter = action.name === "counter-attack" || action.name === "stop hit";
        if (counter) alone.from = Math.round(action.from + 0.3 * (action.to - action.from));
        const lands = phrase.lamps[side] !== undefined && last[side] === action;
        alone.contested = phrase.timed.some((met) => met.side !== side && met.to > action.from);
        alone.evaded = next?.name === "lean back";
        if (action.name === "riposte" && !lands) alone.missSide = -0.16;
        thrust(alone, lands);
      } else small[action.name](alone);
    }
  });
  const lit = { left: phrase.lamps.left, right: phrase.lamps.right };
  for (const side of sides) {
    tracks[side].to(phrase.halt - (lit[side] === undefined ? 3 : 1), phrase.halt + 10, poses.rest);
  }
}

/** One arm and weapon out straight, the other's elbow bent at a right angle, both upright. */
function measureDistance(from, until) {
  aimAt("left", from, "elbow");
  tracks.left.to(from, from + 12, { aim: 1, reach: 0.985, lean: 0, twist: 34, hit: 1 });
  tracks.right.to(from, from + 10, { lean: 0, forward: 0.3, rise: -0.26, side: 0.02, pitch: 52, yaw: 0 });
  both(until - 12, until, poses.rest);
}

let count = 0;
for (const event of events) {
  if (event.kind === "phrase") fence(event, count++);
  else if (event.kind === "distance" && event.lasts !== undefined) measureDistance(event.at, event.until);
  else if (event.kind === "stop" && event.resetsDistance) measureDistance(event.at + 40, event.until);
  else if (event.kind === "stop" && event.for.includes("weapon test")) {
    tracks.left.to(event.at, event.at + 10, { pitch: 62, rise: -0.2, forward: 0.34 });
    tracks.left.to(event.until - 12, event.until - 2, poses.rest);
  } else if (event.kind === "end") {
    both(event.at + 4, event.at + 16, { pitch: 76, rise: -0.06, forward: 0.24, side: 0.02, lean: 0 });
    both(event.at + 28, event.at + 40, poses.rest);
  }
}

/** A breath and small searching movements of the blade, so that nobody sits like a statue. */
function alive(pose, side, frame) {
  const seconds = frame / 25 + (side === "left" ? 0 : 1.7);
  const quiet = 1 - pose.aim;
  return {
    ...pose,
    lean: pose.lean + 0.5 * Math.sin(seconds * 1.9),
    rise: pose.rise + 0.006 * Math.sin(seconds * 2.3),
    yaw: pose.yaw + quiet * 2.2 * Math.sin(seconds * 4.1 + Math.sin(seconds * 1.3)),
    pitch: pose.pitch + quiet * 1.8 * Math.sin(seconds * 3.3 + 1),
  };
}

/** Both fencers' joints in space at a frame. */
export function fencersAt(frame) {
  const platforms = platformsAt(frame);
  const pose = {};
  const seat = {};
  const body = {};
  for (const side of sides) {
    pose[side] = alive(tracks[side].at(frame), side, frame);
    seat[side] = chair(side, platforms[side]);
    body[side] = trunk(seat[side], pose[side]);
  }
  const found = {};
  for (const side of sides) {
    const opponent = other[side];
    const aim = target(aimedFor(side, frame), seat[opponent], body[opponent]);
    found[side] = joints(side, platforms[side], pose[side], aim, body[opponent].shoulders);
  }
  return found;
}
