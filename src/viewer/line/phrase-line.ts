// The phrase line on the page: the still layer is drawn once for each window of time, and only the playhead and the
// frame around the entry in hand move with the picture.

import { formatTime, type Milliseconds } from "../../bout/time";
import type { Item } from "../../messages/scene";
import { element, setAttribute, setText } from "../dom";
import type { HeldScene } from "../held-scene";
import { shortName } from "../ledger-line";
import type { SoundLevels } from "../sound-levels";
import { readColours } from "../theme";
import { itemAt, layoutLine, timeAt, xOf, type LineLayout, type Window } from "./layout";
import { centre, paintLine, rowsFor, type Fonts } from "./paint";
import { soundColumns } from "./sound-band";

export interface LineEvents {
  /** Wants the picture at a time, or at an entry. */
  go(at: number): void;
  /** The same by a key, which leaves the keyboard with the line. */
  goByKey(at: number): void;
  /** Wants the entry before or after the playhead. */
  neighbour(direction: -1 | 1): void;
  /** Picks a phrase by hand, or leaves it out. */
  pick(item: Item | undefined): void;
}

const mostZoom = 400;

export class PhraseLine {
  readonly element: HTMLElement;
  readonly #events: LineEvents;
  readonly #canvas = element("canvas", { "aria-hidden": true });
  readonly #playhead = element("div", { class: "playhead" });
  readonly #inHand = element("div", { class: "in-hand", hidden: true });
  readonly #hover = element("div", { class: "hover", hidden: true });
  readonly #names = {
    above: element("span", { class: "above" }),
    below: element("span", { class: "below" }),
  };
  readonly #noteOfBelow = element("span", { class: "note-below" });
  readonly #track = element("div", {
    class: "track",
    role: "slider",
    tabindex: 0,
    "aria-label": "Phrase line. Arrow keys go from entry to entry, Enter picks a phrase.",
    "aria-valuemin": 0,
    "aria-valuemax": 0,
    "aria-valuenow": 0,
  });
  readonly #scroller = element("div", { class: "scroller", tabindex: -1 });
  readonly #room = element("div", { class: "room" });
  #scene: HeldScene | undefined;
  #sound: SoundLevels | undefined;
  #layout: LineLayout | undefined;
  #length = 60_000;
  #zoom = 1;
  #at = 0;
  #item: Item | undefined;
  #picked: ReadonlySet<number> = new Set();
  #drawing = 0;

  constructor(events: LineEvents) {
    this.#events = events;
    this.#track.append(this.#canvas, this.#inHand, this.#playhead, this.#hover);
    this.#room.append(this.#track);
    this.#scroller.append(this.#room);
    const button = (words: string, name: string, does: () => void) => {
      const made = element("button", { type: "button", "aria-label": name, title: name }, words);
      made.addEventListener("click", does);
      return made;
    };
    this.element = element(
      "section",
      { class: "line", "aria-label": "Phrase line" },
      this.#names.above,
      this.#names.below,
      this.#noteOfBelow,
      element(
        "div",
        { class: "zooming", role: "group", "aria-label": "Zoom of the phrase line" },
        button("−", "Show more of the bout", () => {
          this.zoomBy(1 / 2);
        }),
        button("+", "Show less of the bout, larger", () => {
          this.zoomBy(2);
        }),
        button("whole", "The whole bout", () => {
          this.zoomBy(0);
        }),
      ),
      this.#scroller,
    );
    this.#listen();
    new ResizeObserver(() => {
      this.redraw();
    }).observe(this.#scroller);
  }

  show(scene: HeldScene, length: number): void {
    this.#scene = scene;
    this.#length = Math.max(1000, length);
    const [left, right] = scene.head.names;
    const { mirrored } = scene.head;
    setText(this.#names.above, `${shortName(mirrored ? right : left)} (${mirrored ? "right" : "left"})`);
    setText(this.#names.below, `${shortName(mirrored ? left : right)} (${mirrored ? "left" : "right"})`);
    this.#noteBelow();
    this.redraw();
  }

  /** Draws how loud it is under the line; undefined without sound. */
  hear(sound: SoundLevels | undefined): void {
    this.#sound = sound;
    this.#noteBelow();
    this.redraw();
  }

  /** Marks the picked phrases, by their places in the log. */
  mark(picked: ReadonlySet<number>): void {
    this.#picked = picked;
    this.redraw();
  }

  /** Says what stands below the phrases. */
  #noteBelow(): void {
    const drift = this.#scene !== undefined && this.#scene.head.drift.length > 0;
    const told = [
      this.#sound === undefined ? "" : "sound of the recording",
      drift ? "drift of the platforms, up: towards the right end" : "",
    ];
    setText(this.#noteOfBelow, told.filter((one) => one !== "").join("; "));
  }

  /** Moves the playhead, which stays in view. While the picture runs its place is told in whole seconds. */
  moveTo(at: Milliseconds, item: Item | undefined, playing: boolean): void {
    const moved = at !== this.#at;
    this.#at = at;
    this.#item = item;
    if (moved) this.#follow();
    this.#place();
    const told = playing ? ((Math.floor(at / 1000) * 1000) as Milliseconds) : at;
    setAttribute(this.#track, "aria-valuenow", String(Math.round(told / 1000)));
    setAttribute(
      this.#track,
      "aria-valuetext",
      `${formatTime(told)}${item === undefined ? "" : `, ${item.number === null ? item.kind : `phrase ${item.number}`}: ${item.sentence}${this.#picked.has(item.index) ? ", picked" : ""}`}`,
    );
  }

  /** Draws the still layer again at the next picture. */
  redraw(): void {
    cancelAnimationFrame(this.#drawing);
    this.#drawing = requestAnimationFrame(() => {
      this.#draw();
    });
  }

  zoomBy(factor: number, aboutX = this.#scroller.clientWidth / 2): void {
    const at = timeAt(this.#window(), aboutX);
    this.#zoom = Math.min(mostZoom, Math.max(1, this.#zoom * factor));
    this.#room.style.width = `${this.#zoom * 100}%`;
    const pixels = (at / this.#length) * this.#scroller.clientWidth * this.#zoom;
    this.#scroller.scrollLeft = pixels - aboutX;
    this.redraw();
  }

  #window(): Window {
    const width = Math.max(1, this.#scroller.clientWidth);
    const whole = width * this.#zoom;
    const from = (this.#scroller.scrollLeft / whole) * this.#length;
    return { from, to: from + this.#length / this.#zoom, width };
  }

  #draw(): void {
    const context = this.#canvas.getContext("2d");
    if (context === null || this.#scene === undefined) return;
    const window = this.#window();
    const ratio = globalThis.devicePixelRatio;
    this.#canvas.width = Math.round(window.width * ratio);
    const sound = this.#sound === undefined ? undefined : soundColumns(this.#sound, window);
    const { height } = rowsFor(sound !== undefined, this.#scene.head.drift.length > 0);
    this.#canvas.height = Math.round(height * ratio);
    this.#track.style.width = `${window.width}px`;
    this.#track.style.height = `${height}px`;
    context.scale(ratio, ratio);
    const fonts = this.#fonts();
    context.font = fonts.words;
    const { items, head } = this.#scene;
    this.#layout = layoutLine(items, head, window, (words) => context.measureText(words).width, this.#picked);
    paintLine(context, window.width, this.#layout, sound, readColours(), fonts);
    this.#track.setAttribute("aria-valuemax", String(Math.round(this.#length / 1000)));
    this.#place();
  }

  #fonts(): Fonts {
    const family = getComputedStyle(document.body).fontFamily;
    return { words: `11px ${family}`, numbers: `600 11px ${family}` };
  }

  #place(): void {
    const window = this.#window();
    const x = xOf(window, this.#at);
    this.#playhead.style.transform = `translateX(${Math.round(x)}px)`;
    this.#playhead.hidden = x < -1 || x > window.width + 1;
    const block = this.#layout?.blocks.find(({ item }) => item.index === this.#item?.index);
    const sign = this.#layout?.signs.find(({ item }) => item.index === this.#item?.index);
    this.#inHand.hidden = block === undefined && sign === undefined;
    const left = block?.x ?? (sign?.x ?? 0) - 6;
    const width = block?.width ?? 12;
    this.#inHand.style.transform = `translateX(${Math.round(left) - 2}px)`;
    this.#inHand.style.width = `${Math.round(width) + 4}px`;
  }

  #follow(): void {
    if (this.#zoom === 1) return;
    const window = this.#window();
    const x = xOf(window, this.#at);
    if (x >= window.width * 0.05 && x <= window.width * 0.92) return;
    this.#scroller.scrollLeft += x - window.width * 0.25;
  }

  #listen(): void {
    const track = this.#track;
    let dragging = false;
    const place = (event: PointerEvent) => {
      const box = track.getBoundingClientRect();
      return { x: event.clientX - box.left, above: event.clientY - box.top < centre };
    };
    const found = (event: PointerEvent) => {
      const { x, above } = place(event);
      return this.#layout === undefined ? undefined : itemAt(this.#layout, x, above);
    };
    track.addEventListener("pointerdown", (event) => {
      if (event.button !== 0) return;
      const item = found(event);
      if (event.ctrlKey || event.metaKey) {
        event.preventDefault();
        if (item?.kind === "phrase") this.#events.pick(item);
        return;
      }
      track.setPointerCapture(event.pointerId);
      dragging = item === undefined;
      this.#events.go(item?.at ?? this.#timeUnder(event));
    });
    track.addEventListener("pointermove", (event) => {
      if (dragging) this.#events.go(this.#timeUnder(event));
      this.#showHover(found(event), place(event).x);
    });
    const letGo = () => {
      dragging = false;
    };
    track.addEventListener("pointerup", letGo);
    track.addEventListener("pointercancel", letGo);
    track.addEventListener("pointerleave", () => {
      this.#showHover(undefined, 0);
    });
    this.#scroller.addEventListener("scroll", () => {
      this.redraw();
    });
    this.#scroller.addEventListener(
      "wheel",
      (event) => {
        if (event.shiftKey || Math.abs(event.deltaX) > Math.abs(event.deltaY)) return;
        event.preventDefault();
        const box = this.#scroller.getBoundingClientRect();
        this.zoomBy(Math.exp(-event.deltaY * (event.ctrlKey ? 0.01 : 0.0025)), event.clientX - box.left);
      },
      { passive: false },
    );
    track.addEventListener("keydown", (event) => {
      const does = this.#keys[event.key];
      if (does === undefined || event.altKey || event.metaKey || event.ctrlKey) return;
      event.preventDefault();
      event.stopPropagation();
      does();
    });
  }

  readonly #keys: Readonly<Record<string, () => void>> = {
    ArrowLeft: () => this.#events.neighbour(-1),
    ArrowUp: () => this.#events.neighbour(-1),
    ArrowRight: () => this.#events.neighbour(1),
    ArrowDown: () => this.#events.neighbour(1),
    Enter: () => this.#events.pick(this.#item),
    Home: () => this.#events.goByKey(0),
    End: () => this.#events.goByKey(this.#scene?.items.at(-1)?.at ?? 0),
    "+": () => this.zoomBy(2, xOf(this.#window(), this.#at)),
    "=": () => this.zoomBy(2, xOf(this.#window(), this.#at)),
    "-": () => this.zoomBy(1 / 2, xOf(this.#window(), this.#at)),
  };

  #timeUnder(event: PointerEvent): number {
    const box = this.#track.getBoundingClientRect();
    const x = Math.min(box.width, Math.max(0, event.clientX - box.left));
    return Math.max(0, Math.round(timeAt(this.#window(), x)));
  }

  #showHover(item: Item | undefined, x: number): void {
    this.#hover.hidden = item === undefined;
    this.#track.style.cursor = item === undefined ? "" : "pointer";
    if (item === undefined) return;
    const name = item.number === null ? "" : `${item.number}  `;
    const picked = this.#picked.has(item.index) ? "  (picked)" : "";
    setText(this.#hover, `${name}${item.sentence === "" ? item.kind : item.sentence}${picked}`);
    const half = this.#hover.offsetWidth / 2;
    const width = this.#scroller.clientWidth;
    this.#hover.style.transform = `translateX(${Math.round(Math.min(Math.max(0, x - half), Math.max(0, width - 2 * half)))}px)`;
  }
}
