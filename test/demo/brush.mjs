// Shapes the demo's people and things are made of: rounded bodies with light from above, lines, circles in space.
import { project } from "./camera.mjs";
import { add } from "./space.mjs";

const turn = 2 * Math.PI;

function convexHull(points) {
  const sorted = [...points].sort((a, b) => a.x - b.x || a.y - b.y);
  const half = (list) => {
    const found = [];
    for (const point of list) {
      while (found.length > 1) {
        const [a, b] = found.slice(-2);
        if ((b.x - a.x) * (point.y - a.y) - (b.y - a.y) * (point.x - a.x) > 0) break;
        found.pop();
      }
      found.push(point);
    }
    found.pop();
    return found;
  };
  return [...half(sorted), ...half(sorted.reverse())];
}

/** A colour (#rrggbb) part of the way to another one. */
function mixed(colour, other, share) {
  const parts = (text) => [1, 3, 5].map((at) => parseInt(text.slice(at, at + 2), 16));
  const b = parts(other);
  const hex = (value, index) =>
    Math.round(value + (b[index] - value) * share)
      .toString(16)
      .padStart(2, "0");
  return `#${parts(colour).map(hex).join("")}`;
}

export const lighter = (colour, share) => mixed(colour, "#ffffff", share);
export const darker = (colour, share) => mixed(colour, "#10141c", share);

/** The outline that a rubber band round some balls in space would take: [point, radius in metres] each. */
export function bandPath(context, balls) {
  const points = balls.flatMap(([point, radius]) => {
    const middle = project(point);
    const r = radius * middle.scale;
    return Array.from({ length: 18 }, (_, index) => ({
      x: middle.x + r * Math.cos((index * turn) / 18),
      y: middle.y + r * Math.sin((index * turn) / 18),
    }));
  });
  const hull = convexHull(points);
  context.beginPath();
  hull.forEach((point, index) =>
    index === 0 ? context.moveTo(point.x, point.y) : context.lineTo(point.x, point.y),
  );
  context.closePath();
  const xs = hull.map((point) => point.x);
  const ys = hull.map((point) => point.y);
  return { left: Math.min(...xs), right: Math.max(...xs), top: Math.min(...ys), bottom: Math.max(...ys) };
}

/** A rounded body round some balls, lit from above and a little from the left. */
export function body(context, balls, colour, { edge = true } = {}) {
  const box = bandPath(context, balls);
  const shade = context.createLinearGradient(
    box.left,
    box.top,
    box.left + 0.35 * (box.right - box.left) + 6,
    box.bottom + 1,
  );
  shade.addColorStop(0, lighter(colour, 0.22));
  shade.addColorStop(0.45, colour);
  shade.addColorStop(1, darker(colour, 0.34));
  context.fillStyle = shade;
  context.fill();
  if (edge) {
    context.lineWidth = 0.8;
    context.strokeStyle = darker(colour, 0.5);
    context.stroke();
  }
}

/** A limb of two balls, shaded across its length. */
export function limb(context, from, to, fromRadius, toRadius, colour) {
  const balls = [
    [from, fromRadius],
    [to, toRadius],
  ];
  bandPath(context, balls);
  const a = project(from);
  const b = project(to);
  const length = Math.hypot(b.x - a.x, b.y - a.y) || 1;
  let nx = -(b.y - a.y) / length;
  let ny = (b.x - a.x) / length;
  if (ny > 0 || (ny === 0 && nx > 0)) [nx, ny] = [-nx, -ny];
  const radius = Math.max(fromRadius, toRadius) * a.scale;
  const middle = { x: (a.x + b.x) / 2, y: (a.y + b.y) / 2 };
  const shade = context.createLinearGradient(
    middle.x + nx * radius,
    middle.y + ny * radius,
    middle.x - nx * radius,
    middle.y - ny * radius,
  );
  shade.addColorStop(0, lighter(colour, 0.25));
  shade.addColorStop(0.5, colour);
  shade.addColorStop(1, darker(colour, 0.36));
  context.fillStyle = shade;
  context.fill();
  context.lineWidth = 0.7;
  context.strokeStyle = darker(colour, 0.5);
  context.stroke();
}

/** A line through points in space, `thickness` in metres (at least `least` pixels). */
export function line(context, points, thickness, colour, least = 0.8) {
  const seen = points.map(project);
  context.beginPath();
  seen.forEach((point, index) =>
    index === 0 ? context.moveTo(point.x, point.y) : context.lineTo(point.x, point.y),
  );
  context.lineWidth = Math.max(least, thickness * seen[0].scale);
  context.strokeStyle = colour;
  context.lineCap = "round";
  context.lineJoin = "round";
  context.stroke();
}

/** A filled flat shape in space. */
export function plate(context, points, colour) {
  context.beginPath();
  points.map(project).forEach((point, index) => {
    if (index === 0) context.moveTo(point.x, point.y);
    else context.lineTo(point.x, point.y);
  });
  context.closePath();
  context.fillStyle = colour;
  context.fill();
}

/** The path of a circle in space, spanned by two unit directions. */
export function circlePath(context, middle, first, second, radius) {
  context.beginPath();
  for (let index = 0; index <= 48; index++) {
    const angle = (index * turn) / 48;
    const point = project(
      add(add(middle, first, radius * Math.cos(angle)), second, radius * Math.sin(angle)),
    );
    if (index === 0) context.moveTo(point.x, point.y);
    else context.lineTo(point.x, point.y);
  }
  context.closePath();
}

/** A soft shadow on the floor: an ellipse whose half axes are `along` and `across` metres. */
export function shadow(context, [x, y], along, across, strength) {
  const middle = project([x, y, 0]);
  const width = along * middle.scale;
  const height = Math.abs(project([x, y + across, 0]).y - project([x, y - across, 0]).y) / 2;
  context.save();
  context.translate(middle.x, middle.y);
  context.scale(1, height / width);
  const shade = context.createRadialGradient(0, 0, 0.35 * width, 0, 0, 1.3 * width);
  shade.addColorStop(0, `rgba(8,10,16,${strength})`);
  shade.addColorStop(0.55, `rgba(8,10,16,${0.5 * strength})`);
  shade.addColorStop(1, "rgba(8,10,16,0)");
  context.fillStyle = shade;
  context.fillRect(-1.4 * width, -1.4 * width, 2.8 * width, 2.8 * width);
  context.restore();
}
