// The hall, the piste with its tape marks, and the platforms with their bar.
import { createCanvas } from "@napi-rs/canvas";
import { height, project, width } from "./camera.mjs";
import { circlePath, line, plate } from "./brush.mjs";
import { nearEdge, onPlatform, platformLength, platformWidth, tapeMarks } from "./truth.mjs";

const wallAt = 4.6;

/** What never changes, drawn once. */
export function hallPicture() {
  const canvas = createCanvas(width, height);
  const context = canvas.getContext("2d");
  const foot = project([0, wallAt, 0]).y;
  const wall = context.createLinearGradient(0, 0, 0, foot);
  wall.addColorStop(0, "#46505e");
  wall.addColorStop(0.6, "#5b6675");
  wall.addColorStop(1, "#677282");
  context.fillStyle = wall;
  context.fillRect(0, 0, width, foot);
  const dado = project([0, wallAt, 1.15]).y;
  context.fillStyle = "rgba(30,38,52,0.28)";
  context.fillRect(0, dado, width, foot - dado);
  context.fillStyle = "rgba(220,226,234,0.20)";
  context.fillRect(0, dado - 1.5, width, 1.5);
  wallBars(context, -5.4, -3.5);
  wallBars(context, 3.3, 5.2);
  bench(context);
  const floor = context.createLinearGradient(0, foot, 0, height);
  floor.addColorStop(0, "#8a7f70");
  floor.addColorStop(1, "#a89a86");
  context.fillStyle = floor;
  context.fillRect(0, foot, width, height - foot);
  context.fillStyle = "#2c313b";
  context.fillRect(0, foot - 4, width, 4);
  for (let y = -4; y < wallAt; y += 0.42)
    line(
      context,
      [
        [-7, y, 0],
        [7, y, 0],
      ],
      0,
      "rgba(60,48,34,0.10)",
      1,
    );
  piste(context);
  const dim = context.createRadialGradient(540, 260, 240, 540, 280, 640);
  dim.addColorStop(0, "rgba(0,0,0,0)");
  dim.addColorStop(1, "rgba(6,9,16,0.38)");
  context.fillStyle = dim;
  context.fillRect(0, 0, width, height);
  return canvas;
}

function wallBars(context, from, to) {
  for (let z = 0.3; z < 2.9; z += 0.26) {
    line(
      context,
      [
        [from, wallAt - 0.05, z],
        [to, wallAt - 0.05, z],
      ],
      0.035,
      "rgba(168,140,104,0.55)",
    );
  }
  for (let x = from; x <= to + 0.01; x += (to - from) / 2) {
    line(
      context,
      [
        [x, wallAt - 0.05, 0.05],
        [x, wallAt - 0.05, 3],
      ],
      0.06,
      "rgba(120,98,70,0.8)",
    );
  }
}

function bench(context) {
  for (const x of [-2.9, -1.6])
    line(
      context,
      [
        [x, 4.1, 0],
        [x, 4.1, 0.4],
      ],
      0.06,
      "#3a3229",
    );
  plate(
    context,
    [
      [-3.1, 4, 0.42],
      [-1.4, 4, 0.42],
      [-1.4, 4.3, 0.42],
      [-3.1, 4.3, 0.42],
    ],
    "#a5875f",
  );
  plate(
    context,
    [
      [-3.1, 4, 0.42],
      [-1.4, 4, 0.42],
      [-1.4, 4, 0.35],
      [-3.1, 4, 0.35],
    ],
    "#7b6344",
  );
}

function piste(context) {
  const ends = 2.75;
  const half = 1.3;
  plate(
    context,
    [
      [-ends, -half, 0],
      [ends, -half, 0],
      [ends, half, 0],
      [-ends, half, 0],
    ],
    "#4c5968",
  );
  const inside = 0.05;
  const border = [
    [-ends + inside, -half + inside, 0],
    [ends - inside, -half + inside, 0],
    [ends - inside, half - inside, 0],
    [-ends + inside, half - inside, 0],
  ];
  line(context, [...border, border[0]], 0.03, "rgba(226,231,238,0.7)");
  line(
    context,
    [
      [0, -half, 0],
      [0, half, 0],
    ],
    0.02,
    "rgba(226,231,238,0.35)",
  );
  // Tape crosses: their middles are the points of the fit.
  for (const [x, y] of tapeMarks) {
    strip(context, x, y, 0.13, 0.022);
    strip(context, x, y, 0.022, 0.16);
  }
}

function strip(context, x, y, along, across) {
  plate(
    context,
    [
      [x - along, y - across, 0],
      [x + along, y - across, 0],
      [x + along, y + across, 0],
      [x - along, y + across, 0],
    ],
    "#f0e3b0",
  );
}

/** A platform: a flat metal box whose near long edge is what users click. */
export function drawPlatform(context, side, pose) {
  const thick = 0.03;
  const corner = (along, across, z) => {
    const [x, y] = onPlatform(pose, (along * platformLength) / 2, (across * platformWidth) / 2);
    return [x, y, z];
  };
  const [innerEnd, outerEnd] = nearEdge(side, pose);
  plate(
    context,
    [corner(-1, -1, thick), corner(1, -1, thick), corner(1, 1, thick), corner(-1, 1, thick)],
    "#9aa3ae",
  );
  plate(
    context,
    [
      corner(-0.9, -0.86, thick),
      corner(0.9, -0.86, thick),
      corner(0.9, 0.86, thick),
      corner(-0.9, 0.86, thick),
    ],
    "#868f9b",
  );
  const outer = side === "left" ? -1 : 1;
  for (const end of [-1, 1]) {
    plate(
      context,
      [corner(end, -1, thick), corner(end, 1, thick), corner(end, 1, 0), corner(end, -1, 0)],
      "#5a626d",
    );
  }
  plate(
    context,
    [corner(-1, -1, thick), corner(1, -1, thick), corner(1, -1, 0), corner(-1, -1, 0)],
    "#5f6772",
  );
  line(context, [corner(-1, -1, thick), corner(1, -1, thick)], 0.008, "#dfe4ea");
  for (const [x, y] of [innerEnd, outerEnd])
    line(
      context,
      [
        [x, y, 0],
        [x, y, thick],
      ],
      0.016,
      "#f2f4f6",
      2,
    );
  plate(
    context,
    [
      corner(outer, -0.5, thick),
      corner(outer * 0.93, -0.5, thick),
      corner(outer * 0.93, 0.5, thick),
      corner(outer, 0.5, thick),
    ],
    "#3f4651",
  );
}

/** The bar between the platforms, behind the chairs as the camera sees them, with the scale on which distance is set. */
export function drawBar(context, poses) {
  const at = (side, along, across, z) => {
    const [x, y] = onPlatform(poses[side], along, across);
    return [x, y, z];
  };
  const y = 0.36;
  const half = platformLength / 2;
  line(context, [at("left", -half * 0.9, y, 0.08), at("right", half * 0.9, y, 0.08)], 0.075, "#39404a");
  line(context, [at("left", -half * 0.9, y, 0.105), at("right", half * 0.9, y, 0.105)], 0.03, "#aab3be");
  for (const side of ["left", "right"]) {
    for (const share of [-0.7, 0.6]) {
      line(context, [at(side, share * half, y, 0.02), at(side, share * half, y, 0.14)], 0.05, "#2c323b");
    }
  }
}

/** The light that lit lamps throw on the piste. */
export function lampLight(context, lamps) {
  for (const [side, x, colour] of [
    ["left", -1, "#ff2f2f"],
    ["right", 1, "#24e065"],
  ]) {
    if (lamps[side] === undefined) continue;
    circlePath(context, [x, 1.3, 0], [1.2, 0, 0], [0, 0.5, 0], 1);
    context.fillStyle = `${lamps[side] === "valid" ? colour : "#ffffff"}14`;
    context.fill();
  }
}
