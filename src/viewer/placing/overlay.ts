// Lines over the picture while points are placed: the floor as the fit sees it, and where the platforms stood last.

import type { Corners, GridLine } from "../../piste";
import { drawn, fill } from "../dom";
import type { Picture } from "../picture/picture";

export class Overlay {
  readonly #picture: Picture;
  readonly #lines = drawn("svg", {
    class: "floor-lines",
    viewBox: "0 0 1 1",
    preserveAspectRatio: "none",
    "aria-hidden": true,
  });

  constructor(picture: Picture) {
    this.#picture = picture;
  }

  /** No lines and no ghost take the overlay away. */
  show(grid: readonly GridLine[], ghost: readonly Corners[]): void {
    const film = this.#picture.video?.parentElement;
    if (film === null || film === undefined || grid.length + ghost.length === 0) {
      this.#lines.remove();
      return;
    }
    if (this.#lines.parentElement !== film) film.append(this.#lines);
    const line = (path: string, kind: string) =>
      ["under", "over"].map((layer) => drawn("path", { class: `${layer} ${kind}`, d: path }));
    fill(
      this.#lines,
      ...grid.flatMap(({ from, to, axis }) =>
        line(`M${from[0]} ${from[1]}L${to[0]} ${to[1]}`, axis ? "axis" : "square"),
      ),
      ...ghost.flatMap(([inner, outer]) => line(`M${inner[0]} ${inner[1]}L${outer[0]} ${outer[1]}`, "ghost")),
    );
  }
}
