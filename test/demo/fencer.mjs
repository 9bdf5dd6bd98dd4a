// Draws one fencer and the chair, from the joints: first what is far from the camera, last the weapon arm.
import { project } from "./camera.mjs";
import { bodyWire, chairFrame, clamp, wheel } from "./chair.mjs";
import { body, circlePath, darker, lighter, limb, line, plate } from "./brush.mjs";
import { add, between, cross, unit, up } from "./space.mjs";

/** What tells the two apart besides the side: the colour of piping, socks and chair. None of them is a lamp colour. */
export const kits = {
  left: { cloth: "#ece7dc", trim: "#c98a2b", chair: "#3c4a63", hair: "#3a2a20" },
  right: { cloth: "#e4e9ee", trim: "#4f6fb5", chair: "#574058", hair: "#1f1c22" },
};
const lame = "#a9b0b8";

function leg(context, kit, seat, across) {
  const hip = seat.at(-0.04, across * 0.9, 0.55);
  const knee = seat.at(0.36, across, 0.55);
  const ankle = seat.at(0.42, across, 0.14);
  limb(context, knee, ankle, 0.066, 0.045, kit.trim);
  limb(context, between(knee, ankle, 0.42), ankle, 0.055, 0.044, "#d9d9d6");
  body(
    context,
    [
      [seat.at(0.4, across, 0.1), 0.04],
      [seat.at(0.53, across, 0.085), 0.03],
    ],
    "#2e3238",
  );
  limb(context, hip, knee, 0.1, 0.072, kit.cloth);
  line(context, [seat.at(0.16, across, 0.64), seat.at(0.2, across * 1.32, 0.52)], 0.03, "#333842");
}

function head(context, kit, found) {
  const { head: middle, seat, shoulders, neck } = found;
  const front = seat.inner > 0 ? 1 : -1;
  const at = project(middle);
  const r = 0.118 * at.scale;
  // Bib, then the back of the head, then the mesh that wraps the front.
  body(
    context,
    [
      [add(add(shoulders, neck, 0.03), seat.bar, 0.03), 0.062],
      [add(add(middle, up, -0.1), seat.bar, 0.06), 0.056],
    ],
    lighter(kit.cloth, 0.1),
  );
  body(
    context,
    [
      [add(middle, seat.bar, -0.02), 0.108],
      [add(add(middle, up, -0.06), seat.bar, -0.03), 0.075],
    ],
    kit.hair,
  );
  const lean = Math.atan2(neck[0], neck[2]);
  context.save();
  context.translate(at.x, at.y);
  context.rotate(lean * 0.8);
  context.scale(front, 1);
  context.beginPath();
  context.moveTo(-0.52 * r, -0.94 * r);
  context.bezierCurveTo(0.3 * r, -1.28 * r, 1.16 * r, -0.62 * r, 1.14 * r, 0.02 * r);
  context.bezierCurveTo(1.12 * r, 0.55 * r, 0.86 * r, 1.02 * r, 0.46 * r, 1.12 * r);
  context.bezierCurveTo(0.1 * r, 0.95 * r, -0.24 * r, 0.6 * r, -0.32 * r, 0.1 * r);
  context.closePath();
  const shade = context.createLinearGradient(-0.3 * r, -r, 0.9 * r, r);
  shade.addColorStop(0, "#7d858f");
  shade.addColorStop(0.45, "#474d56");
  shade.addColorStop(1, "#23272d");
  context.fillStyle = shade;
  context.fill();
  context.save();
  context.clip();
  context.strokeStyle = "rgba(205,212,220,0.26)";
  context.lineWidth = 0.7;
  context.beginPath();
  for (let step = -2.2; step < 2.6; step += 0.26) {
    context.moveTo(step * r, -1.3 * r);
    context.lineTo((step + 0.9) * r, 1.3 * r);
    context.moveTo((step + 0.9) * r, -1.3 * r);
    context.lineTo(step * r, 1.3 * r);
  }
  context.stroke();
  context.restore();
  context.strokeStyle = kit.trim;
  context.lineWidth = 1.6;
  context.beginPath();
  context.moveTo(-0.52 * r, -0.94 * r);
  context.quadraticCurveTo(-0.4 * r, -0.3 * r, -0.32 * r, 0.1 * r);
  context.bezierCurveTo(-0.24 * r, 0.6 * r, 0.1 * r, 0.95 * r, 0.46 * r, 1.12 * r);
  context.stroke();
  context.strokeStyle = "#14161a";
  context.lineWidth = 1.4;
  context.beginPath();
  context.moveTo(-0.4 * r, -0.2 * r);
  context.quadraticCurveTo(-0.7 * r, -0.1 * r, -1.02 * r, 0.1 * r);
  context.stroke();
  context.restore();
}

function torso(context, kit, found) {
  const { hip, shoulders, spine, seat, weaponShoulder, otherShoulder } = found;
  const waist = add(add(hip, spine, 0.12), seat.bar, 0.0);
  const chest = add(add(hip, spine, 0.31), seat.bar, 0.025);
  body(
    context,
    [
      [seat.at(-0.1, 0.05, 0.565), 0.115],
      [seat.at(-0.1, -0.05, 0.565), 0.115],
      [seat.at(0.02, 0, 0.57), 0.1],
    ],
    kit.cloth,
    { edge: false },
  );
  body(
    context,
    [
      [add(hip, spine, 0.04), 0.128],
      [waist, 0.13],
      [chest, 0.15],
      [add(shoulders, spine, -0.06), 0.115],
      [add(weaponShoulder, spine, -0.03), 0.07],
      [add(otherShoulder, spine, -0.03), 0.066],
    ],
    lame,
  );
  const seam = [
    add(hip, seat.weaponSide, 0.13),
    add(chest, seat.weaponSide, 0.15),
    add(weaponShoulder, up, -0.06),
  ];
  line(context, seam, 0.007, "rgba(60,66,76,0.45)");
  line(
    context,
    [add(add(shoulders, spine, 0.02), seat.bar, -0.06), add(add(shoulders, spine, 0.0), seat.bar, 0.07)],
    0.03,
    kit.trim,
  );
}

/** Everything but the weapon arm. */
export function drawSeated(context, side, found) {
  const kit = kits[side];
  const { seat } = found;
  bodyWire(context, seat);
  wheel(context, seat, -0.27, false);
  clamp(context, seat, -0.29);
  chairFrame(context, kit, seat, false);
  limb(context, found.otherShoulder, found.otherElbow, 0.066, 0.052, darker(kit.cloth, 0.12));
  limb(context, found.otherElbow, found.otherHand, 0.05, 0.038, darker(kit.cloth, 0.12));
  leg(context, kit, seat, -0.1);
  plate(
    context,
    [
      seat.at(-0.22, -0.2, 0.48),
      seat.at(0.3, -0.2, 0.48),
      seat.at(0.3, 0.2, 0.48),
      seat.at(-0.22, 0.2, 0.48),
    ],
    "#262a31",
  );
  plate(
    context,
    [
      seat.at(-0.23, -0.21, 0.5),
      seat.at(-0.23, 0.21, 0.5),
      seat.at(-0.25, 0.21, 0.8),
      seat.at(-0.25, -0.21, 0.8),
    ],
    darker(kit.chair, 0.15),
  );
  leg(context, kit, seat, 0.1);
  torso(context, kit, found);
  head(context, kit, found);
  chairFrame(context, kit, seat, true);
  wheel(context, seat, 0.27, true);
  clamp(context, seat, 0.31);
}

/** The weapon arm, the guard and the blade, which bends when the point is stopped. */
export function drawWeaponArm(context, side, found) {
  const kit = kits[side];
  const { weaponShoulder, elbow, hand, blade, tip, bend } = found;
  const from = add(hand, blade, 0.05);
  const middle = between(from, tip, 0.5);
  const bow = add(middle, up, Math.sqrt(Math.max(0, bend)) * 0.42);
  const a = project(from);
  const b = project(bow);
  const c = project(tip);
  const stroke = (thickness, colour) => {
    context.beginPath();
    context.moveTo(a.x, a.y);
    context.quadraticCurveTo(b.x, b.y, c.x, c.y);
    context.lineWidth = thickness;
    context.strokeStyle = colour;
    context.lineCap = "round";
    context.stroke();
  };
  stroke(2.6, "rgba(24,28,36,0.55)");
  stroke(1.7, "#e3e8ee");
  context.beginPath();
  context.arc(c.x, c.y, 1.9, 0, 2 * Math.PI);
  context.fillStyle = "#d8b25a";
  context.fill();
  limb(context, weaponShoulder, elbow, 0.074, 0.056, kit.cloth);
  limb(context, elbow, hand, 0.056, 0.042, kit.cloth);
  const wrist = between(elbow, hand, 0.62);
  limb(context, wrist, hand, 0.052, 0.046, "#c9b48f");
  limb(context, between(elbow, hand, 0.5), between(elbow, hand, 0.62), 0.0525, 0.0525, kit.trim);
  const across = unit(cross(blade, up));
  circlePath(context, add(hand, blade, 0.06), across, cross(across, blade), 0.052);
  context.fillStyle = "#9aa2ac";
  context.fill();
  context.lineWidth = 1;
  context.strokeStyle = "#5b626c";
  context.stroke();
}
