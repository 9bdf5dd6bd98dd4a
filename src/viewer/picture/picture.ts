// The picture: the recording in its box, zoomed and moved, with crosses, captions and messages over it.

import { drawn, element, fill, setText } from "../dom";
import { fitted, moved, whole, zoomAbout, type Zoom } from "./zoom";

const dragThreshold = 4;

export interface PictureEvents {
  /** A plain press on the picture, at fractions of the frame. */
  pressed(x: number, y: number): void;
  /** The pointer over the picture, at fractions of the frame; undefined when it leaves. */
  pointed(at: { readonly x: number; readonly y: number } | undefined): void;
}

/** A recording that can be shown. */
export interface Showing {
  readonly video: HTMLVideoElement;
  /** A frame drawn over it, hidden where there is none. */
  readonly drawn: { readonly canvas: HTMLCanvasElement };
}

export interface Mark {
  readonly x: number;
  readonly y: number;
  /** Number or letter beside the cross; empty for none. */
  readonly words: string;
  readonly strong: boolean;
}

export class Picture {
  /** Takes the keyboard focus; keys pressed here are the viewer's. */
  readonly stage: HTMLElement;
  readonly #film = element("div", { class: "film" });
  readonly #marks = drawn("svg", { class: "marks", "aria-hidden": true });
  readonly #caption = element("p", { class: "caption", role: "status" });
  readonly #message = element("div", { class: "message" });
  readonly #captionButtons = element("span", { class: "caption-buttons" });
  readonly #captionRow = element(
    "div",
    { class: "caption-row", hidden: true },
    this.#caption,
    this.#captionButtons,
  );
  #showing: Showing | undefined;
  #zoom: Zoom = whole;
  #shownMarks: readonly Mark[] = [];
  readonly #pressed = new Map<number, { x: number; y: number; moved: boolean }>();

  constructor(events: PictureEvents) {
    const control = (words: string, name: string, does: () => void) => {
      const button = element("button", { type: "button", "aria-label": name, title: name }, words);
      button.addEventListener("click", does);
      return button;
    };
    const zooming = element(
      "div",
      { class: "zooming", role: "group", "aria-label": "Zoom of the picture" },
      control("−", "Zoom out", () => {
        this.zoomBy(1 / 1.5);
      }),
      control("+", "Zoom in", () => {
        this.zoomBy(1.5);
      }),
      control("whole", "The whole picture", () => {
        this.showWhole();
      }),
    );
    const stage = element("div", {
      class: "stage",
      tabindex: 0,
      role: "application",
      "aria-label": "Picture. Keys typed here tag the bout.",
    });
    this.#film.append(this.#marks);
    stage.append(this.#film, this.#message);
    this.stage = element("div", { class: "picture" }, stage, this.#captionRow, zooming);
    this.#stageBox = stage;
    new ResizeObserver(() => {
      this.#layOut();
    }).observe(stage);
    this.#listen(stage, events);
  }
  readonly #stageBox: HTMLElement;

  focus(): void {
    this.#stageBox.focus({ preventScroll: true });
  }

  get box(): HTMLElement {
    return this.#stageBox;
  }

  get video(): HTMLVideoElement | undefined {
    return this.#showing?.video;
  }

  /** What is seen of the recording, with its size in pixels. */
  get frame():
    { readonly image: CanvasImageSource; readonly width: number; readonly height: number } | undefined {
    if (this.#showing === undefined) return undefined;
    const {
      video,
      drawn: { canvas },
    } = this.#showing;
    return canvas.hidden
      ? { image: video, width: video.videoWidth, height: video.videoHeight }
      : { image: canvas, width: canvas.width, height: canvas.height };
  }

  /** Shows a recording, or none. */
  show(recording: Showing | undefined): void {
    if (this.#showing?.video === recording?.video) return;
    this.#remove();
    this.#showing = recording;
    if (recording !== undefined) this.#film.prepend(recording.video, recording.drawn.canvas);
    this.#film.hidden = recording === undefined;
    this.#zoom = whole;
    this.#layOut();
  }

  /** Lays a recording that gets ready behind the one on screen; it shows once `takeOver` is called. */
  prepare({ video, drawn }: Showing): void {
    video.classList.add("coming");
    this.#film.prepend(video, drawn.canvas);
  }

  /** The recording laid behind takes the place of the one on screen, zoomed and moved as that was. */
  takeOver(recording: Showing): void {
    this.#remove();
    this.#showing = recording;
    recording.video.classList.remove("coming");
    this.#layOut();
  }

  #remove(): void {
    this.#showing?.video.remove();
    this.#showing?.drawn.canvas.remove();
  }

  /** The picture's size has become known. */
  sized(): void {
    this.#layOut();
  }

  /** Says in place of the picture why there is none. */
  say(heading: string, ...lines: readonly string[]): void {
    this.#message.hidden = heading === "";
    fill(
      this.#message,
      element("p", { class: "heading" }, heading),
      ...lines.filter((line) => line !== "").map((line) => element("p", {}, line)),
    );
  }

  /** A line over the foot of the picture with buttons; empty takes it away. */
  caption(words: string, buttons: readonly (readonly [words: string, does: () => void])[] = []): void {
    if (this.#caption.textContent === words && this.#captionButtons.childElementCount === buttons.length)
      return;
    this.#captionRow.hidden = words === "";
    setText(this.#caption, words);
    fill(
      this.#captionButtons,
      ...buttons.map(([label, does]) => {
        const button = element("button", { type: "button" }, label);
        button.addEventListener("click", does);
        return button;
      }),
    );
  }

  zoomBy(factor: number): void {
    this.#setZoom(zoomAbout(this.#zoom, factor, 0.5, 0.5));
  }

  showWhole(): void {
    this.#setZoom(whole);
  }

  /** Draws crosses at fractions of the frame. */
  mark(marks: readonly Mark[]): void {
    if (marks.length === 0 && this.#shownMarks.length === 0) return;
    this.#shownMarks = marks;
    const { width, height } = this.#size();
    const arm = 6 / this.#zoom.scale;
    fill(
      this.#marks,
      ...marks.map(({ x, y, words, strong }) =>
        drawn(
          "g",
          { class: strong ? "mark strong" : "mark", transform: `translate(${x * width} ${y * height})` },
          ...(["under", "over"] as const).map((layer) =>
            drawn("path", { class: layer, d: `M${-arm} 0H${arm}M0 ${-arm}V${arm}` }),
          ),
          words !== "" &&
            drawn(
              "text",
              { x: 4 / this.#zoom.scale, y: -5 / this.#zoom.scale, "font-size": 12 / this.#zoom.scale },
              words,
            ),
        ),
      ),
    );
  }

  /** Fractions of the frame under a point of the window. */
  fractions(clientX: number, clientY: number): { x: number; y: number } {
    const box = this.#film.getBoundingClientRect();
    return { x: (clientX - box.left) / box.width, y: (clientY - box.top) / box.height };
  }

  #size(): { width: number; height: number } {
    return { width: this.#film.offsetWidth, height: this.#film.offsetHeight };
  }

  #layOut(): void {
    const { clientWidth, clientHeight } = this.#stageBox;
    const { video } = this;
    const aspect =
      video === undefined || video.videoHeight === 0 ? 16 / 9 : video.videoWidth / video.videoHeight;
    const { width, height } = fitted(clientWidth, clientHeight, aspect);
    this.#film.style.width = `${width}px`;
    this.#film.style.height = `${height}px`;
    this.#marks.setAttribute("viewBox", `0 0 ${Math.max(1, width)} ${Math.max(1, height)}`);
    this.#setZoom(this.#zoom);
  }

  #setZoom(zoom: Zoom): void {
    this.#zoom = zoom;
    const { scale, x, y } = zoom;
    this.#film.style.transform = scale === 1 ? "" : `translate(${x * 100}%, ${y * 100}%) scale(${scale})`;
    this.#film.style.setProperty("--scale", String(scale));
    this.stage.classList.toggle("zoomed", scale > 1);
    this.mark(this.#shownMarks);
  }

  /** Fractions of the film's place at scale 1, which zooming is about. */
  #inBox(clientX: number, clientY: number): { x: number; y: number } {
    const at = this.fractions(clientX, clientY);
    return { x: at.x * this.#zoom.scale + this.#zoom.x, y: at.y * this.#zoom.scale + this.#zoom.y };
  }

  #listen(stage: HTMLElement, events: PictureEvents): void {
    stage.addEventListener(
      "wheel",
      (event) => {
        if (this.#showing === undefined) return;
        event.preventDefault();
        const { x, y } = this.#inBox(event.clientX, event.clientY);
        this.#setZoom(zoomAbout(this.#zoom, Math.exp(-event.deltaY * (event.ctrlKey ? 0.01 : 0.002)), x, y));
      },
      { passive: false },
    );
    stage.addEventListener("dblclick", (event) => {
      const { x, y } = this.#inBox(event.clientX, event.clientY);
      this.#setZoom(this.#zoom.scale > 1 ? whole : zoomAbout(this.#zoom, 2.5, x, y));
    });
    stage.addEventListener("pointerdown", (event) => {
      if (event.button !== 0) return;
      this.#pressed.set(event.pointerId, { x: event.clientX, y: event.clientY, moved: false });
      stage.setPointerCapture(event.pointerId);
    });
    stage.addEventListener("pointermove", (event) => {
      events.pointed(this.fractions(event.clientX, event.clientY));
      this.#drag(event);
    });
    stage.addEventListener("pointerup", (event) => {
      const press = this.#pressed.get(event.pointerId);
      this.#pressed.delete(event.pointerId);
      if (press === undefined || press.moved) return;
      const { x, y } = this.fractions(event.clientX, event.clientY);
      if (x >= 0 && x <= 1 && y >= 0 && y <= 1) events.pressed(x, y);
    });
    stage.addEventListener("pointercancel", (event) => {
      this.#pressed.delete(event.pointerId);
    });
    stage.addEventListener("pointerleave", () => {
      events.pointed(undefined);
    });
  }

  /** One finger or the mouse moves the picture; two fingers zoom it. */
  #drag(event: PointerEvent): void {
    const press = this.#pressed.get(event.pointerId);
    if (press === undefined) return;
    const other = [...this.#pressed].find(([id]) => id !== event.pointerId)?.[1];
    const { width, height } = this.#size();
    if (other !== undefined) {
      const before = Math.hypot(press.x - other.x, press.y - other.y);
      const after = Math.hypot(event.clientX - other.x, event.clientY - other.y);
      const { x, y } = this.#inBox(other.x, other.y);
      other.moved = true;
      press.moved = true;
      if (before > 0) this.#setZoom(zoomAbout(this.#zoom, after / before, x, y));
    } else if (press.moved || Math.hypot(event.clientX - press.x, event.clientY - press.y) > dragThreshold) {
      press.moved = true;
      this.#setZoom(moved(this.#zoom, (event.clientX - press.x) / width, (event.clientY - press.y) / height));
    } else return;
    press.x = event.clientX;
    press.y = event.clientY;
  }
}
