// The referee, seen from behind at the near side, and the two assistants at the far side, who watch the seats and push the
// frame back at a re-centre. Their signs are the referee's own hand signals, simplified.
import { events } from "./timeline.mjs";
import { project } from "./camera.mjs";
import { body, limb, line, plate, shadow } from "./brush.mjs";
import { add, between, joint, minus, scaled, unit } from "./space.mjs";
import { platformsAt } from "./truth.mjs";
import { Track } from "./track.mjs";

// Hands are given from the shoulders' middle: x to the right, y away from the camera, z up, in metres.
const arms = (leftHand, rightHand) => ({
  ...{ lx: leftHand[0], ly: leftHand[1], lz: leftHand[2] },
  ...{ rx: rightHand[0], ry: rightHand[1], rz: rightHand[2] },
});
const down = { left: [-0.27, 0.04, -0.55], right: [0.27, 0.04, -0.55] };
const signs = {
  rest: arms(down.left, down.right),
  ready: arms([-0.3, 0.3, -0.22], [0.3, 0.3, -0.22]),
  play: arms([-0.1, 0.42, -0.18], [0.1, 0.42, -0.18]),
  halt: arms(down.left, [0.3, 0.25, 0.34]),
  nothing: arms([-0.34, 0.3, -0.34], [0.34, 0.3, -0.34]),
  nothingCrossed: arms([0.1, 0.36, -0.3], [-0.1, 0.36, -0.3]),
  simultaneous: arms([-0.07, 0.4, 0.02], [0.07, 0.4, 0.02]),
  left: arms([-0.42, 0.12, 0.28], down.right),
  right: arms(down.left, [0.42, 0.12, 0.28]),
  leftCard: arms([-0.26, 0.12, 0.46], down.right),
  rightCard: arms(down.left, [0.26, 0.12, 0.46]),
  bothCard: arms([-0.26, 0.12, 0.46], [0.26, 0.12, 0.46]),
};
const screen = [
  arms([-0.06, 0.4, 0.26], [0.06, 0.4, 0.26]),
  arms([-0.32, 0.36, 0.26], [0.32, 0.36, 0.26]),
  arms([-0.32, 0.36, -0.04], [0.32, 0.36, -0.04]),
  arms([-0.06, 0.4, -0.04], [0.06, 0.4, -0.04]),
];

const referee = new Track(signs.rest);
const cards = [];

function call(award, because, at) {
  if (award === "left" || award === "right") referee.to(at, at + 6, signs[award]);
  else if (because === "simultaneous") referee.to(at, at + 6, signs.simultaneous);
  else if (award === "none") {
    referee.to(at, at + 4, signs.nothingCrossed);
    referee.to(at + 4, at + 9, signs.nothing);
  }
}

for (const event of events) {
  if (event.kind === "phrase") {
    referee.to(event.ready, event.ready + 6, signs.ready);
    if (event.play !== false) {
      referee.to(event.start - 3, event.start + 1, signs.play);
      referee.to(event.start + 6, event.start + 12, signs.rest);
    }
    referee.to(event.halt - 3, event.halt + 1, signs.halt);
    call(event.award, event.because, event.halt + 5);
  } else if (event.kind === "review") {
    const step = 5;
    screen.forEach((pose, index) => referee.to(event.at + step * index, event.at + step * (index + 1), pose));
    referee.to(event.at + step * 4, event.at + step * 5, screen[0]);
    referee.to(event.at + step * 5 + 2, event.at + step * 6 + 4, signs.rest);
    call(event.award, undefined, event.until - 18);
    referee.to(event.until - 4, event.until, signs.rest);
  } else if (event.kind === "card") {
    referee.to(event.at + 2, event.at + 10, signs[`${event.to}Card`]);
    referee.to(event.until - 8, event.until - 1, signs.rest);
    cards.push({ from: event.at + 5, until: event.until - 5, to: event.to, colour: event.card });
  } else if (event.kind === "stop" || event.kind === "period") {
    referee.to(event.at, event.at + 6, signs.halt);
    referee.to(event.at + 14, event.at + 22, signs.rest);
  } else if (event.kind === "end") {
    referee.to(event.at, event.at + 7, signs[event.winner]);
    referee.to(event.at + 36, event.at + 46, signs.rest);
  }
}

const assistants = {
  left: new Track({ away: 1, bend: 0 }),
  right: new Track({ away: 1, bend: 0 }),
};
for (const event of events) {
  if (event.kind !== "stop" || !(event.for.includes("re-centre") || event.resetsDistance)) continue;
  for (const track of Object.values(assistants)) {
    track.to(event.at + 3, event.at + 20, { away: 0 });
    track.to(event.at + 14, event.at + 21, { bend: 1 });
    const done = event.resetsDistance ? event.at + 42 : event.until - 15;
    track.to(done, done + 8, { bend: 0 });
    track.to(done + 2, done + 15, { away: 1 });
  }
}

const flesh = "#c99b78";
const shirt = "#d8dce2";

/** The parts of a standing person, to be drawn in the order that the camera's side asks for. */
function person(context, [x, y], { coat, legs, hair, bend, facing, hands }) {
  const lean = bend * 0.42;
  const hip = [x, y, 0.93];
  const neck = [x + facing[0] * lean, y + facing[1] * lean, 1.45 - 0.2 * bend];
  const shoulder = (side) => [neck[0] + side * 0.175, neck[1], neck[2] - 0.05];
  const away = facing[1] > 0.5;
  shadow(context, [x, y], 0.3, 0.17, 0.5);
  for (const side of [-1, 1]) {
    const ankle = [x + side * 0.1, y, 0.09];
    const toe = [x + side * 0.12, y + facing[1] * 0.1, 0.04];
    body(
      context,
      [
        [[x + side * 0.1, y, 0.05], 0.05],
        [toe, 0.04],
      ],
      "#1d2026",
    );
    limb(context, [hip[0] + side * 0.085, hip[1], hip[2]], ankle, 0.098, 0.062, legs);
  }
  const trunk = () => {
    const waist = add(hip, [lean * 0.3 * facing[0], lean * 0.3 * facing[1], 0.16]);
    body(
      context,
      [
        [add(hip, [-0.075, 0, -0.06]), 0.1],
        [add(hip, [0.075, 0, -0.06]), 0.1],
        [waist, 0.15],
      ],
      coat,
    );
    body(
      context,
      [
        [add(waist, [-0.05, 0, -0.03]), 0.1],
        [add(waist, [0.05, 0, -0.03]), 0.1],
        [add(neck, [-0.06, 0, -0.2]), 0.125],
        [add(neck, [0.06, 0, -0.2]), 0.125],
        [shoulder(-1), 0.068],
        [shoulder(1), 0.068],
        [add(neck, [0, 0, -0.02]), 0.06],
      ],
      coat,
      { edge: false },
    );
    if (away)
      line(context, [add(neck, [0, 0, -0.08]), add(hip, [0, 0, -0.12])], 0.006, "rgba(10,14,22,0.45)");
    else
      plate(context, [add(neck, [-0.045, 0, 0]), add(neck, [0.045, 0, 0]), add(neck, [0, 0, -0.2])], shirt);
  };
  const arm = (side) => {
    const from = shoulder(side);
    const to = hands(side, neck);
    const elbow = joint(from, to, 0.3, 0.28, [side * 0.7, -facing[1] * 0.35, -0.7]);
    const knuckles = add(to, scaled(unit(minus(to, elbow)), 0.07));
    body(
      context,
      [
        [to, 0.04],
        [knuckles, 0.036],
      ],
      flesh,
    );
    limb(context, from, elbow, 0.07, 0.054, coat);
    limb(context, elbow, between(elbow, to, 0.94), 0.054, 0.042, coat);
    return to;
  };
  const top = () => {
    const chin = add(neck, [facing[0] * 0.04 * (1 + bend), facing[1] * 0.06 * bend, 0.105]);
    const crown = add(chin, [0, 0, 0.11]);
    limb(context, add(neck, [0, 0, -0.03]), chin, 0.058, 0.056, flesh);
    body(
      context,
      [
        [chin, 0.07],
        [crown, 0.086],
      ],
      flesh,
    );
    if (away)
      body(
        context,
        [
          [add(chin, [0, 0, 0.015]), 0.072],
          [crown, 0.092],
        ],
        hair,
      );
    else
      body(
        context,
        [
          [add(crown, [-0.03, 0, 0.03]), 0.07],
          [add(crown, [0.03, 0, 0.03]), 0.07],
        ],
        hair,
        { edge: false },
      );
    for (const side of away ? [-1, 1] : [])
      body(context, [[add(chin, [side * 0.088, 0, 0.06]), 0.02]], flesh);
  };
  return { trunk, arm, top };
}

/** The assistants, behind the fencers; `behind` tells whether a chair has to be drawn over them. */
export function drawAssistants(context, frame) {
  const poses = platformsAt(frame);
  for (const side of ["left", "right"]) {
    const outer = side === "left" ? -1 : 1;
    const { away, bend } = assistants[side].at(frame);
    const near = [poses[side].x + outer * 0.8, 0.34];
    const home = [outer * 1.78, 1.62];
    const x = near[0] + (home[0] - near[0]) * away;
    const y = near[1] + (home[1] - near[1]) * away;
    const sway = 0.01 * Math.sin(frame / 31 + outer);
    const parts = person(context, [x, y], {
      ...{ coat: side === "left" ? "#5d6b58" : "#6a5f73", legs: "#343a45", bend },
      ...{ hair: side === "left" ? "#7a5a3a" : "#2b2622", facing: [-outer * (0.35 + 0.65 * bend), -0.4] },
      hands: (hand, neck) => {
        const folded = [neck[0] + hand * 0.1 + sway, neck[1] - 0.16, neck[2] - 0.46];
        const pushing = [poses[side].x + outer * 0.42, y - 0.1 + hand * 0.12, 0.78];
        return folded.map((value, index) => value + (pushing[index] - value) * bend);
      },
    });
    const rear = outer;
    parts.trunk();
    parts.arm(rear);
    parts.arm(-rear);
    parts.top();
  }
}

const refereePlace = [-2.08, -1.72];
const cardColours = { yellow: "#f4d21f", red: "#e02a2a" };

/** The referee, seen from behind, with a raised card when there is one. */
export function drawReferee(context, frame) {
  const pose = referee.at(frame);
  const sway = 0.008 * Math.sin(frame / 37);
  const parts = person(context, refereePlace, {
    ...{ coat: "#2f3c56", legs: "#5c6068", hair: "#4a4038", bend: 0, facing: [0.25, 1] },
    hands: (side, neck) => {
      const hand = side < 0 ? [pose.lx, pose.ly, pose.lz] : [pose.rx, pose.ry, pose.rz];
      return add(neck, [hand[0] + sway, hand[1], hand[2]]);
    },
  });
  // Arms stretched forwards are beyond the trunk for this camera.
  const far = (y) => y > 0.2;
  const hands = {};
  if (far(pose.ly)) hands.left = parts.arm(-1);
  if (far(pose.ry)) hands.right = parts.arm(1);
  parts.trunk();
  parts.top();
  hands.left ??= parts.arm(-1);
  hands.right ??= parts.arm(1);
  const card = cards.find((shown) => shown.from <= frame && frame < shown.until);
  if (card === undefined) return;
  for (const side of ["left", "right"]) {
    if (card.to !== side && card.to !== "both") continue;
    const at = project(add(hands[side], [0, 0, 0.12]));
    const w = 0.085 * at.scale;
    const h = 0.125 * at.scale;
    context.fillStyle = cardColours[card.colour];
    context.beginPath();
    context.roundRect(at.x - w / 2, at.y - h * 0.8, w, h, 2);
    context.fill();
    context.strokeStyle = "rgba(20,20,20,0.5)";
    context.lineWidth = 1;
    context.stroke();
  }
}
