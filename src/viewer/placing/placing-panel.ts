// Placing points by hand: the panel that says which comes next, with the floor's coordinates, and the magnifier.

import { sides } from "../../bout/words";
import type { ToHost } from "../../messages/contract";
import { checkReference, gridLines, type Corners, type Fit } from "../../piste";
import { element, fill, setText } from "../dom";
import type { HeldScene } from "../held-scene";
import { shortName } from "../ledger-line";
import { fencerOn } from "../pad-plan";
import type { Mark, Picture } from "../picture/picture";
import { formatTime, type Milliseconds } from "../../bout/time";
import { centimetres, fitNow, residualWords } from "./fit-words";
import { fitAt, lastPlatforms, nextPlaceToMark } from "./in-force";
import { Magnifier } from "./magnifier";
import { Overlay } from "./overlay";
import {
  again,
  bothCorners,
  corners,
  newFit,
  newPlatforms,
  nudged,
  placed,
  readiness,
  selecting,
  sideOf,
  skipping,
  withFloor,
  withReference,
  withoutLast,
  type Placing,
} from "./points";
import { hintOf, presetsOf, referenceNamed, referenceNames, type Reference } from "./references";

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
  /** Wants the picture at a time, in milliseconds. */
  go(at: number): void;
  /** Wants to place platforms at the frame on screen. */
  again(): void;
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
  readonly #tells = element("p", { class: "tells", role: "status" });
  readonly #reference = element("div", { class: "row reference" });
  readonly #next = element("div", { class: "row next-place" });
  readonly #overlay: Overlay;
  #placing: Placing | undefined;
  #mirrored = false;
  /** What holds at the frame where placing began. */
  #scene: HeldScene | undefined;
  #at = 0;
  #fit: Fit | undefined;
  #ghost: readonly Corners[] = [];
  /** The next press is on a fixed point of the fit. */
  #checking = false;
  #checked = "";
  /** On the way to this frame, which the recording may not have reached yet. */
  #goingTo: number | undefined;

  constructor(picture: Picture, events: PlacingEvents) {
    this.#picture = picture;
    this.#magnifier = new Magnifier(picture);
    this.#overlay = new Overlay(picture);
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
      this.#reference,
      this.#list,
      this.#tells,
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
      this.#next,
    );
  }

  get active(): boolean {
    return this.#placing !== undefined;
  }

  /** Begins at a frame, given in milliseconds. */
  begin(what: "fit" | "platforms", scene: HeldScene, at: number): void {
    const { mirrored, names } = scene.head;
    this.#mirrored = mirrored;
    this.#at = this.#goingTo ?? at;
    this.#goingTo = undefined;
    this.#standOn(scene, what);
    this.#checking = false;
    this.#checked = "";
    this.#set(what === "fit" ? newFit(mirrored) : newPlatforms([shortName(names[0]), shortName(names[1])]));
  }

  /** The bout has changed while points are placed, mostly by the last ones kept. */
  follow(scene: HeldScene): void {
    if (this.#placing === undefined) return;
    this.#standOn(scene, this.#placing.what);
    this.#set(this.#placing);
  }

  #standOn(scene: HeldScene, what: "fit" | "platforms"): void {
    this.#scene = scene;
    this.#fit = fitAt(scene, this.#at);
    this.#ghost = what === "platforms" ? lastPlatforms(scene, this.#at) : [];
  }

  press(x: number, y: number): void {
    if (this.#checking && this.#fit !== undefined && this.#placing !== undefined) {
      this.#checking = false;
      this.#checked = checkedWords(this.#fit, x, y);
      this.#set(this.#placing);
      return;
    }
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
    if (placing === undefined) this.#overlay.show([], []);
    else this.#render(placing);
    if (entered) this.look(undefined);
    this.#events.changed();
  }

  #render(placing: Placing): void {
    const { ready, words } = readiness(placing);
    setText(this.#words, words);
    this.#keep.disabled = !ready;
    const placed = placing.what === "fit" && placing.points.length !== 3 ? fitOfPoints(placing) : undefined;
    const fit = placing.what === "fit" ? placed : this.#fit;
    this.#overlay.show(fit === undefined ? [] : gridLines(fit), this.#ghost);
    this.#renderReference(placing);
    this.#renderTells(placing, placed);
    this.#renderNext(placing);
    fill(
      this.#list,
      ...(placing.what === "fit" ? this.#fitRows(placing, placed) : this.#cornerRows(placing)),
    );
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

  /** Which known points are pressed on, and how far apart they are. */
  #renderReference(placing: Placing): void {
    this.#reference.hidden = placing.what !== "fit";
    if (placing.what !== "fit") return;
    const { reference } = placing;
    const change = (to: Reference) => {
      if (this.#placing !== undefined) this.#set(withReference(this.#placing, to));
    };
    const choice = element(
      "select",
      { "aria-label": "Known points of the floor" },
      ...referenceNames.map((name) =>
        element("option", { value: name, selected: name === reference.name }, name),
      ),
    );
    choice.addEventListener("change", () => {
      const name = referenceNames.find((one) => one === choice.value);
      if (name !== undefined) change(referenceNamed(name));
      this.#picture.focus();
    });
    const size = (axis: "along" | "across") =>
      element(
        "label",
        {},
        axis,
        this.#metres(reference[axis], `Metres from corner to corner, ${axis} the piste`, (metres) => {
          if (metres > 0) change({ ...reference, [axis]: metres });
        }),
        "m",
      );
    fill(
      this.#reference,
      element("label", {}, "press on", choice),
      size("along"),
      size("across"),
      element("span", { class: "hint" }, hintOf(reference)),
    );
  }

  /** A field for a length; what is no number stays there, marked as such. */
  #metres(value: number, name: string, changed: (metres: number) => void): HTMLInputElement {
    const input = element("input", {
      type: "text",
      inputmode: "decimal",
      value: String(value),
      "aria-label": name,
    });
    input.addEventListener("change", () => {
      const metres = Number(input.value.replace(",", ".").replace("\u2212", "-"));
      if (input.value.trim() === "" || !Number.isFinite(metres)) {
        input.setAttribute("aria-invalid", "true");
        return;
      }
      changed(metres);
    });
    input.addEventListener("keydown", (event) => {
      if (event.key !== "Enter" && event.key !== "Escape") return;
      event.preventDefault();
      this.#picture.focus();
    });
    return input;
  }

  #renderTells(placing: Placing, placed: Fit | undefined): void {
    if (placing.what === "fit") {
      const now = placed === undefined ? undefined : fitNow(placed.points);
      setText(this.#tells, now?.fit === undefined ? "" : now.words);
    } else if (this.#checking)
      setText(this.#tells, "Press on a fixed point of the floor that the fit was made of.");
    else if (this.#checked !== "") setText(this.#tells, this.#checked);
    else
      setText(
        this.#tells,
        this.#fit === undefined
          ? "There is no fit for this shot yet: these corners tell of no move until one is placed before them."
          : "The lines are the floor as the fit has it: where they don't lie on it, the camera has moved.",
      );
  }

  /** Averaging, checking the fit, and the way to the next place to mark. */
  #renderNext(placing: Placing): void {
    this.#next.hidden = placing.what === "fit";
    if (placing.what === "fit" || this.#scene === undefined) return;
    const button = (words: string, does: () => void, disabled = false) => {
      const made = element("button", { type: "button", disabled }, words);
      made.addEventListener("click", does);
      return made;
    };
    const next = nextPlaceToMark(this.#scene.items, this.#at);
    const go = (first: () => void) => () => {
      if (next === undefined) return;
      first();
      this.#events.go(next.at);
      this.#goingTo = next.at;
      this.#events.again();
    };
    fill(
      this.#next,
      button(
        "place them again in another frame",
        () => {
          if (this.#placing !== undefined) this.#set(again(this.#placing));
        },
        again(placing) === placing,
      ),
      button(
        "check a fixed point",
        () => {
          this.#checking = true;
          this.#set(this.#placing);
        },
        this.#fit === undefined,
      ),
      element(
        "span",
        { class: "hint" },
        next === undefined
          ? "No other still moment waits to be marked."
          : `Next place to mark: ${next.words}, at ${formatTime(Math.round(next.at) as Milliseconds)}.`,
      ),
      next !== undefined &&
        button(
          "keep and go there",
          go(() => {
            this.keep();
          }),
          !readiness(placing).ready,
        ),
      next !== undefined &&
        button(
          "go there",
          go(() => {
            this.leave();
          }),
        ),
    );
  }

  #fitRows(placing: Extract<Placing, { what: "fit" }>, fit: Fit | undefined): HTMLElement[] {
    return placing.points.map(({ floor }, index) => {
      const words = presetsOf(placing.reference, placing.mirrored).find((one) =>
        one.floor.every((metres, axis) => metres === floor[axis]),
      )?.words;
      const inputs = (["along", "across"] as const).map((axis, place) => {
        const input = this.#metres(
          floor[place] ?? 0,
          `Point ${index + 1}, metres ${axis} the piste`,
          (metres) => {
            const next: [number, number] = [floor[0], floor[1]];
            next[place] = metres;
            if (this.#placing !== undefined) this.#set(withFloor(this.#placing, index, next));
          },
        );
        return element("label", {}, axis, input, "m");
      });
      return element(
        "li",
        { class: index === placing.selected ? "selected" : undefined },
        this.#select(String(index + 1), index),
        ...inputs,
        element(
          "span",
          { class: "quiet" },
          [words, residualWords(fit, index)].filter((one) => one !== undefined).join(", "),
        ),
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

function fitOfPoints({ points }: Extract<Placing, { what: "fit" }>): Fit | undefined {
  return fitNow(points.map(({ image, floor }) => ({ image: [image.x, image.y], floor }))).fit;
}

/** How a fixed point of the fit lies now that it was pressed on again. */
function checkedWords(fit: Fit, x: number, y: number): string {
  const { point, off, moved } = checkReference(fit, [x, y]);
  const far = off === null ? "far" : centimetres(off);
  return moved
    ? `Point ${point + 1} of the fit now lies ${far} off: the camera has moved since, or another point was pressed on. Place a new fit before these platforms.`
    : `Point ${point + 1} of the fit lies where it lay, ${far} off, no more than two clicks differ: the fit still holds.`;
}
