// Draws the wheelchair: wheels, tubes, the clamps that hold it to the platform, and the fencer's wire to the reel.
import { wheelRadius } from "./body.mjs";
import { body, circlePath, darker, line, plate } from "./brush.mjs";
import { project } from "./camera.mjs";
import { add, up } from "./space.mjs";

const rubber = "#23262c";
const steel = "#c3c9d1";

/** A big wheel; `front` is the one nearer the camera, with its push rim. */
export function wheel(context, seat, across, front) {
  const axle = seat.at(-0.02, across, wheelRadius);
  const ring = (radius) => circlePath(context, axle, seat.forward, up, radius);
  const scale = project(axle).scale;
  ring(wheelRadius - 0.012);
  context.lineWidth = 0.03 * scale;
  context.strokeStyle = rubber;
  context.stroke();
  ring(wheelRadius - 0.036);
  context.lineWidth = 0.012 * scale;
  context.strokeStyle = front ? steel : darker(steel, 0.35);
  context.stroke();
  for (let index = 0; index < 12; index++) {
    const angle = (index * Math.PI) / 6 + 0.2;
    const rim = add(
      add(axle, seat.forward, (wheelRadius - 0.04) * Math.cos(angle)),
      up,
      (wheelRadius - 0.04) * Math.sin(angle),
    );
    line(context, [axle, rim], 0.003, front ? "rgba(215,220,226,0.75)" : "rgba(150,156,166,0.5)", 0.6);
  }
  ring(0.03);
  context.fillStyle = darker(steel, 0.2);
  context.fill();
  if (front) {
    circlePath(context, add(axle, seat.weaponSide, 0.03), seat.forward, up, wheelRadius - 0.06);
    context.lineWidth = 0.012 * scale;
    context.strokeStyle = "rgba(225,229,234,0.85)";
    context.stroke();
  }
}

/** The clamp that holds a wheel to the platform. */
export function clamp(context, seat, across) {
  plate(
    context,
    [
      seat.at(-0.09, across, 0),
      seat.at(0.05, across, 0),
      seat.at(0.03, across, 0.1),
      seat.at(-0.07, across, 0.1),
    ],
    "#20242b",
  );
  line(context, [seat.at(-0.05, across, 0.1), seat.at(0.01, across, 0.1)], 0.02, "#d9b44a");
}

/** The tubes of one side and its castor. */
export function chairFrame(context, kit, seat, near) {
  const s = near ? 0.22 : -0.22;
  const tube = (points, thickness = 0.022) =>
    line(context, points, thickness, near ? kit.chair : darker(kit.chair, 0.3));
  tube([seat.at(-0.22, s, 0.46), seat.at(0.36, s, 0.46), seat.at(0.44, s, 0.1)]);
  tube([seat.at(-0.22, s, 0.8), seat.at(-0.22, s, 0.36), seat.at(-0.02, s, wheelRadius)]);
  tube([seat.at(0.3, s, 0.46), seat.at(0.3, s, 0.14)], 0.018);
  const castor = seat.at(0.3, s, 0.065);
  circlePath(context, castor, seat.forward, up, 0.06);
  context.fillStyle = rubber;
  context.fill();
  circlePath(context, castor, seat.forward, up, 0.025);
  context.fillStyle = steel;
  context.fill();
}

/** The wire from the jacket down to the reel behind the platform. */
export function bodyWire(context, seat) {
  const from = project(seat.at(-0.2, 0.06, 0.62));
  const reel = [-seat.inner * 2, 0.35, 0];
  const to = project(add(reel, up, 0.12));
  context.beginPath();
  context.moveTo(from.x, from.y);
  context.quadraticCurveTo(from.x + 0.3 * (to.x - from.x), to.y + 8, to.x, to.y);
  context.lineWidth = 1.4;
  context.strokeStyle = "#1b1f26";
  context.stroke();
  body(
    context,
    [
      [add(reel, up, 0.06), 0.06],
      [add(reel, up, 0.13), 0.05],
    ],
    "#33404f",
  );
}
