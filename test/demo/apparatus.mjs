// The apparatus behind the piste: red lamp (square) at the left, green (round) at the right, white (diamonds) below, between
// them the score, the clock and the period.
import { project } from "./camera.mjs";
import { line } from "./brush.mjs";
import { drawText, sevenSegments } from "./digits.mjs";

const stand = { x: 0, y: 2, low: 1.42, high: 2.12, half: 1.16 };

const topLeft = project([-stand.half, stand.y, stand.high]);
const bottomRight = project([stand.half, stand.y, stand.low]);
const box = { x: topLeft.x, y: topLeft.y, w: bottomRight.x - topLeft.x, h: bottomRight.y - topLeft.y };
const middleY = box.y + box.h / 2;

/** The middles of the lamps in the picture, in pixels. */
export const lampPlaces = {
  left: { valid: [box.x + 30, middleY - 14], "off-target": [box.x + 30, middleY + 27] },
  right: { valid: [box.x + box.w - 30, middleY - 14], "off-target": [box.x + box.w - 30, middleY + 27] },
};

/** The apparatus on its stand: lamps, score, clock and period as in `state`. */
export function drawApparatus(context, state) {
  for (const x of [-0.6, 0.6])
    line(
      context,
      [
        [x, stand.y, 0],
        [x, stand.y, stand.low],
      ],
      0.06,
      "#2a2f37",
    );
  for (const x of [-0.6, 0.6])
    line(
      context,
      [
        [x - 0.25, stand.y, 0.02],
        [x + 0.25, stand.y, 0.02],
      ],
      0.06,
      "#23272e",
    );
  context.fillStyle = "#15181d";
  context.beginPath();
  context.roundRect(box.x - 5, box.y - 5, box.w + 10, box.h + 10, 8);
  context.fill();
  context.strokeStyle = "#3b424d";
  context.lineWidth = 1.5;
  context.stroke();
  context.fillStyle = "#0b0d10";
  context.fillRect(box.x + 62, box.y + 2, box.w - 124, box.h - 4);
  const middle = box.x + box.w / 2;
  const [leftScore, rightScore] = state.score;
  sevenSegments(context, String(leftScore).padStart(2, " "), middle - 84, box.y + 26, 21, 40, "#ffb84d");
  sevenSegments(context, String(rightScore).padStart(2, " "), middle + 33, box.y + 26, 21, 40, "#ffb84d");
  sevenSegments(context, state.clock, middle - 24, box.y + 48, 11, 19, state.running ? "#ffe9c2" : "#d9a45a");
  drawText(context, "Tarn", middle - 58, box.y + 15, 12, "#c9d0d9");
  drawText(context, "Odrey", middle + 58, box.y + 15, 12, "#c9d0d9");
  drawText(context, `period ${state.period}`, middle, box.y + 37, 10, "#9aa3ae");
  squareLamp(context, ...lampPlaces.left.valid, "#ff2f2f", "#3d1214", state.lamps.left === "valid");
  roundLamp(context, ...lampPlaces.right.valid, "#24e065", "#0f3319", state.lamps.right === "valid");
  for (const side of ["left", "right"]) {
    whiteLamp(context, ...lampPlaces[side]["off-target"], state.lamps[side] === "off-target");
  }
}

function glow(context, x, y, colour, reach) {
  const light = context.createRadialGradient(x, y, 4, x, y, reach);
  light.addColorStop(0, `${colour}b0`);
  light.addColorStop(0.35, `${colour}44`);
  light.addColorStop(1, `${colour}00`);
  context.fillStyle = light;
  context.fillRect(x - reach, y - reach, 2 * reach, 2 * reach);
}

function lit(context, path, x, y, colour, dark, on, reach) {
  if (on) glow(context, x, y, colour, reach);
  path();
  if (on) {
    const light = context.createRadialGradient(x, y - 3, 1, x, y, 24);
    light.addColorStop(0, "#ffffff");
    light.addColorStop(0.4, colour);
    light.addColorStop(1, colour);
    context.fillStyle = light;
  } else context.fillStyle = dark;
  context.fill();
  context.strokeStyle = "rgba(255,255,255,0.18)";
  context.lineWidth = 1;
  context.stroke();
}

function squareLamp(context, x, y, colour, dark, on) {
  const path = () => {
    context.beginPath();
    context.roundRect(x - 21, y - 19, 42, 38, 5);
  };
  lit(context, path, x, y, colour, dark, on, 80);
}

function roundLamp(context, x, y, colour, dark, on) {
  const path = () => {
    context.beginPath();
    context.arc(x, y, 20, 0, 2 * Math.PI);
  };
  lit(context, path, x, y, colour, dark, on, 80);
}

function whiteLamp(context, x, y, on) {
  const path = () => {
    context.beginPath();
    context.moveTo(x, y - 11);
    context.lineTo(x + 17, y);
    context.lineTo(x, y + 11);
    context.lineTo(x - 17, y);
    context.closePath();
  };
  lit(context, path, x, y, "#fdfdf6", "#31353b", on, 60);
}
