// The joints of a seated fencer in space, from where the platform stands and from a pose.
//
// A pose is a handful of numbers: `lean` of the trunk towards the opponent and `twist` of the shoulders (degrees), `aim` (0 the
// hand on guard, 1 the arm out to the target), `reach` (how straight the arm then is), `forward`, `side`, `rise` of the hand on
// guard (metres), `yaw` and `pitch` of the blade (degrees), `missSide` and `missRise` (metres beside the target), `hit` (1: the
// point is on the target and the blade bends).
import { onPlatform } from "./truth.mjs";
import { add, between, joint, long, minus, scaled, turned, unit, up } from "./space.mjs";

/** Metres. */
export const wheelRadius = 0.3;
export const bladeLength = 0.9;
const platformHeight = 0.03;
const trunkLength = 0.47;
const upperArm = 0.29;
const foreArm = 0.32;
/** The chair stands at 110 degrees to the bar (measured at its axle), so it looks 20 degrees off the bar's direction. */
const chairTurn = 20;

export const poses = {
  guard: {
    ...{ lean: -4, twist: 34, aim: 0, reach: 0.8, forward: 0.3, side: 0.05, rise: -0.13, yaw: 0, pitch: 5 },
    ...{ missSide: 0, missRise: 0, hit: 0 },
  },
  rest: {
    ...{ lean: 1, twist: 22, aim: 0, reach: 0.8, forward: 0.27, side: 0.08, rise: -0.36, yaw: 8, pitch: -16 },
    ...{ missSide: 0, missRise: 0, hit: 0 },
  },
};

/** The chair's own axes at a platform's pose: forward, towards the weapon side, and a function from chair to space. */
export function chair(side, platform) {
  const inner = side === "left" ? 1 : -1;
  const angle = ((platform.angle + (side === "left" ? chairTurn : 180 - chairTurn)) * Math.PI) / 180;
  const forward = [Math.cos(angle), Math.sin(angle), 0];
  const weaponSide = [inner * Math.sin(angle), -inner * Math.cos(angle), 0];
  const along = (platform.angle * Math.PI) / 180;
  const bar = [inner * Math.cos(along), inner * Math.sin(along), 0];
  const [x, y] = onPlatform(platform, -inner * 0.1, -0.02);
  const at = (f, s, z) => add(add([x, y, platformHeight + z], forward, f), weaponSide, s);
  return { inner, forward, weaponSide, bar, at };
}

/** Hips, shoulders and head for a lean and a twist. */
export function trunk(seat, { lean, twist }) {
  const towards = unit(add(seat.forward, seat.bar));
  const upright = (share) => {
    const angle = (lean * share * Math.PI) / 180;
    return add(scaled(towards, Math.sin(angle)), up, Math.cos(angle));
  };
  const hip = seat.at(-0.08, 0, 0.55);
  const spine = upright(1);
  const shoulders = add(hip, spine, trunkLength);
  const turn = (twist * Math.PI) / 180;
  const line = add(scaled(seat.weaponSide, Math.cos(turn)), seat.forward, Math.sin(turn));
  const neck = upright(0.6);
  return {
    ...{ hip, spine, shoulders, towards, neck },
    weaponShoulder: add(add(shoulders, line, 0.175), spine, -0.03),
    otherShoulder: add(add(shoulders, line, -0.175), spine, -0.03),
    head: add(add(shoulders, neck, 0.215), towards, 0.03),
  };
}

/** Places that a point can land on, on a fencer's trunk (or beside the valid target). */
export function target(name, seat, body) {
  const on = (share, front, aside) =>
    add(add(add(body.hip, body.spine, share * trunkLength), seat.bar, front), seat.weaponSide, aside);
  switch (name) {
    case "flank":
      return on(0.42, 0.1, 0.12);
    case "belly":
      return on(0.22, 0.15, 0.04);
    case "shoulder":
      return add(body.weaponShoulder, [0, 0, 0.05]);
    case "back":
      return on(0.9, -0.04, 0.14);
    case "thigh":
      return seat.at(0.24, 0.12, 0.58);
    case "sleeve":
      return add(body.weaponShoulder, [seat.inner * 0.06, -0.06, -0.1]);
    case "elbow":
      return add(body.weaponShoulder, [seat.inner * 0.08, -0.02, -0.25]);
    default:
      return on(0.68, 0.16, 0.03);
  }
}

/** All joints of a fencer: `aimedAt` is a point in space (see `target`), `opposite` the other fencer's shoulders. */
export function joints(side, platform, pose, aimedAt, opposite) {
  const seat = chair(side, platform);
  const body = trunk(seat, pose);
  const shoulder = body.weaponShoulder;
  const guardHand = add(
    add(add(shoulder, seat.bar, pose.forward), seat.weaponSide, pose.side),
    up,
    pose.rise,
  );
  const aside = add(aimedAt, [0, pose.missSide, pose.missRise]);
  const towards = unit(minus(aside, shoulder));
  const hand = between(guardHand, add(shoulder, towards, (upperArm + foreArm) * pose.reach), pose.aim);
  const guardBlade = turned(unit(minus(opposite, hand)), seat.inner * pose.yaw, pose.pitch);
  const straight = unit(minus(aside, hand));
  const blade = unit(between(guardBlade, straight, pose.aim));
  const free = add(hand, blade, bladeLength);
  const tip = between(free, aside, pose.hit);
  const bend = Math.max(0, bladeLength - long(minus(tip, hand)));
  return {
    ...body,
    seat,
    hand,
    blade,
    tip,
    bend,
    elbow: joint(
      shoulder,
      hand,
      upperArm,
      foreArm,
      add(add([0, 0, -1], seat.weaponSide, 0.55), seat.bar, -0.3),
    ),
    otherHand: seat.at(0.05, -0.3, 0.6),
    otherElbow: joint(
      body.otherShoulder,
      seat.at(0.05, -0.3, 0.6),
      upperArm,
      foreArm,
      add(seat.weaponSide, seat.bar, -1.5),
    ),
  };
}

/** The lean with which the point just reaches a target with a straight arm, in degrees; at most 42. */
export function leanToReach(side, platform, aimedAt, twist, short) {
  const seat = chair(side, platform);
  const wanted = (upperArm + foreArm) * 0.985 + bladeLength - 0.045 + short;
  let low = -6;
  let high = 42;
  for (let step = 0; step < 24; step++) {
    const lean = (low + high) / 2;
    const { weaponShoulder } = trunk(seat, { lean, twist });
    if (long(minus(aimedAt, weaponShoulder)) > wanted) low = lean;
    else high = lean;
  }
  return (low + high) / 2;
}
