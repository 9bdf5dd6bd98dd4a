// Signs for the apparatus's lamps: its own colours, each doubled by a letter and a shape.

import type { Side } from "../bout/words";
import { drawn } from "./dom";

/** A lamp's sign: a square with L, a disc with R, a diamond with a ring for off target, a crossed box for a fault. */
export function lampSign(side: Side, lamp: string): SVGSVGElement {
  const letter = side === "left" ? "L" : "R";
  const label = (className: string) =>
    drawn("text", { x: 8, y: 12, "text-anchor": "middle", class: className }, letter);
  const shapes =
    lamp === "valid"
      ? side === "left"
        ? [drawn("rect", { x: 1, y: 1, width: 14, height: 14, rx: 2, class: "red" }), label("on-lamp")]
        : [drawn("circle", { cx: 8, cy: 8, r: 7.25, class: "green" }), label("on-lamp")]
      : lamp === "off-target"
        ? [
            drawn("path", { d: "M8 .8 15.2 8 8 15.2.8 8Z", class: "white" }),
            drawn("circle", { cx: 8, cy: 8, r: 2.6, class: "ring" }),
          ]
        : [drawn("path", { d: "M2 2H14V14H2ZM4.5 4.5 11.5 11.5M11.5 4.5 4.5 11.5", class: "fault" })];
  return drawn("svg", { class: "lamp", viewBox: "0 0 16 16", "aria-hidden": true }, ...shapes);
}

/** Says the lamps of a side: "left lamp", "right off target". */
export function lampWords(side: Side, lamp: string): string {
  return lamp === "valid" ? `${side} lamp` : `${side} ${lamp.replace("-", " ")}`;
}
