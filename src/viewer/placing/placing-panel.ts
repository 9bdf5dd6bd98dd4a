// Placing points by hand: the panel that says which comes next, with the floor's coordinates, and the magnifier.

import { sides } from "../../bout/words";
import type { ToHost } from "../../messages/contract";
import type { Head } from "../../messages/scene";
import { element, fill, setText } from "../dom";
import { shortName } from "../ledger-line";
import { fencerOn } from "../pad-plan";
import type { Mark, Picture } from "../picture/picture";
import { Magnifier } from "./magnifier";
import {
  bothCorners,
  corners,
  newFit,
  newPlatforms,
  nudged,
  placed,
  presets,
  readiness,
  selecting,
  sideOf,
  skipping,
  withFloor,
  withoutLast,
  type Placing,
} from "./points";

type Kept =
  Extract<ToHost, { type: "fit" | "platforms" }> extends infer Message
    ? Message extends unknown
      ? Omit<Message, "stamp">
      : never
    : never;

export interface PlacingEvents {
  keep(points: Kept): void;
  left(): void;
  changed(): void;
}

export class PlacingPanel {
  readonly element = element("section", { class: "placing", "aria-label": "Placing points", hidden: true });
  readonly #magnifier: Magnifier;
  readonly #picture: Picture;
  readonly #events: PlacingEvents;
  readonly #words = element("p", { class: "words", role: "status" });
  readonly #list = element("ol", { class: "points" });
  readonly #skips = element("span", { class: "skips" });
  readonly #keep = element(
    "button",
    { type: "button", class: "primary" },
    "keep",
    element("kbd", {}, "Enter"),
  );
  #placing: Placing | undefined;
  #mirrored = false;

  constructor(picture: Picture, events: PlacingEvents) {
    this.#picture = picture;
    this.#magnifier = new Magnifier(picture);
    this.#events = events;
    const button = (words: string, cap: string, does: () => void) => {
      const made = element("button", { type: "button" }, words, element("kbd", {}, cap));
      made.addEventListener("click", does);
      return made;
    };
    this.#keep.addEventListener("click", () => {
      this.keep();
    });
    this.element.append(
      this.#words,
      this.#list,
      element(
        "div",
        { class: "row" },
        this.#keep,
        button("take back", "⌫", () => {
          this.takeBack();
        }),
        button("leave", "Esc", () => {
          this.leave();
        }),
        this.#skips,
        element("span", { class: "hint" }, "arrow keys move the marked point by one pixel of the picture"),
      ),
    );
  }

  get active(): boolean {
    return this.#placing !== undefined;
  }

  begin(what: "fit" | "platforms", { mirrored, names }: Head): void {
    this.#mirrored = mirrored;
    this.#set(what === "fit" ? newFit(mirrored) : newPlatforms([shortName(names[0]), shortName(names[1])]));
  }

  press(x: number, y: number): void {
    if (this.#placing !== undefined) this.#set(placed(this.#placing, { x, y }));
  }

  /** Moves the marked point by pixels of the picture. */
  nudge(x: number, y: number): void {
    const { videoWidth = 1280, videoHeight = 720 } = this.#picture.video ?? {};
    if (this.#placing !== undefined)
      this.#set(nudged(this.#placing, x / (videoWidth || 1280), y / (videoHeight || 720)));
    this.#lookAtMarked();
  }

  takeBack(): void {
    if (this.#placing !== undefined) this.#set(withoutLast(this.#placing));
  }

  leave(): void {
    if (this.#placing === undefined) return;
    this.#set(undefined);
    this.#events.left();
  }

  keep(): void {
    const placing = this.#placing;
    if (placing === undefined || !readiness(placing).ready) return;
    this.#set(undefined);
    this.#events.keep(
      placing.what === "fit"
        ? {
            type: "fit",
            points: placing.points.map(({ image, floor }) => ({
              image: [image.x, image.y],
              floor: [floor[0], floor[1]],
            })),
          }
        : {
            type: "platforms",
            left: bothCorners(placing, "left") ?? null,
            right: bothCorners(placing, "right") ?? null,
          },
    );
    this.#events.left();
  }

  /** The crosses to draw over the picture. */
  marks(): readonly Mark[] {
    const placing = this.#placing;
    if (placing === undefined) return [];
    if (placing.what === "fit")
      return placing.points.map(({ image }, index) => ({
        ...image,
        words: String(index + 1),
        strong: index === placing.selected,
      }));
    return corners.flatMap((corner, index) => {
      const point = placing.points[corner];
      return point === undefined
        ? []
        : [{ ...point, words: String(index + 1), strong: corner === placing.selected }];
    });
  }

  /** Shows the picture around a point, enlarged, while points are being placed. */
  look(at: { readonly x: number; readonly y: number } | undefined): void {
    this.#magnifier.look(this.#placing === undefined ? undefined : at);
  }

  #lookAtMarked(): void {
    const marked = this.marks().find(({ strong }) => strong);
    if (marked !== undefined) this.look(marked);
  }

  #set(placing: Placing | undefined): void {
    const entered = (this.#placing === undefined) !== (placing === undefined);
    this.#placing = placing;
    this.element.hidden = placing === undefined;
    if (placing !== undefined) this.#render(placing);
    if (entered) this.look(undefined);
    this.#events.changed();
  }

  #render(placing: Placing): void {
    const { ready, words } = readiness(placing);
    setText(this.#words, words);
    this.#keep.disabled = !ready;
    fill(this.#list, ...(placing.what === "fit" ? this.#fitRows(placing) : this.#cornerRows(placing)));
    fill(
      this.#skips,
      ...(placing.what === "fit"
        ? []
        : sides.map((half) => {
            const side = fencerOn(half, this.#mirrored);
            const skipped = placing.skipped === side;
            const button = element(
              "button",
              { type: "button", "aria-pressed": String(skipped) },
              `without the ${side} platform`,
            );
            button.addEventListener("click", () => {
              this.#set(skipping(placing, side));
            });
            return button;
          })),
    );
  }

  #fitRows(placing: Extract<Placing, { what: "fit" }>): HTMLElement[] {
    return placing.points.map(({ floor }, index) => {
      const words = presets(placing.mirrored).find((one) =>
        one.floor.every((metres, axis) => metres === floor[axis]),
      )?.words;
      const inputs = (["along", "across"] as const).map((axis, place) => {
        const input = element("input", {
          type: "text",
          inputmode: "decimal",
          value: String(floor[place] ?? 0),
          "aria-label": `Point ${index + 1}, metres ${axis} the piste`,
        });
        input.addEventListener("change", () => {
          const metres = Number(input.value.replace(",", ".").replace("−", "-"));
          if (input.value.trim() === "" || !Number.isFinite(metres)) {
            input.setAttribute("aria-invalid", "true");
            return;
          }
          const next: [number, number] = [floor[0], floor[1]];
          next[place] = metres;
          if (this.#placing !== undefined) this.#set(withFloor(this.#placing, index, next));
        });
        input.addEventListener("keydown", (event) => {
          if (event.key !== "Enter" && event.key !== "Escape") return;
          event.preventDefault();
          this.#picture.focus();
        });
        return element("label", {}, axis, input, "m");
      });
      return element(
        "li",
        { class: index === placing.selected ? "selected" : undefined },
        this.#select(String(index + 1), index),
        ...inputs,
        element("span", { class: "quiet" }, words ?? ""),
      );
    });
  }

  #cornerRows(placing: Extract<Placing, { what: "platforms" }>): HTMLElement[] {
    return corners.map((corner, index) =>
      element(
        "li",
        { class: corner === placing.selected ? "selected" : undefined },
        this.#select(String(index + 1), index, placing.points[corner] === undefined),
        element(
          "span",
          {},
          `${placing.names[sideOf(corner) === "left" ? 0 : 1]}, ${corner.endsWith("inner") ? "inner" : "outer"} corner`,
        ),
        element(
          "span",
          { class: "quiet" },
          placing.points[corner] !== undefined
            ? "placed"
            : corner.startsWith(placing.skipped ?? "neither")
              ? "left out"
              : "to come",
        ),
      ),
    );
  }

  #select(words: string, index: number, disabled = false): HTMLElement {
    const button = element(
      "button",
      { type: "button", "aria-label": `Mark point ${words}`, disabled },
      words,
    );
    button.addEventListener("click", () => {
      if (this.#placing !== undefined) this.#set(selecting(this.#placing, index));
    });
    return button;
  }
}
