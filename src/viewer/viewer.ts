// The viewer as a whole: messages in, keys and presses out, and one rule for what is shown: everything follows from the
// bout held and the frame on screen.

import { formatTime, type Milliseconds } from "../bout/time";
import type { Command } from "../messages/commands";
import type { Stamp, ToViewer, TransportAction } from "../messages/contract";
import type { Item } from "../messages/scene";
import { Adjuster, endField, type Move } from "./adjuster";
import { Strip } from "./detail/strip";
import { element } from "./dom";
import {
  itemInHand,
  neighbour,
  nextScene,
  nextWaiting,
  phraseInHand,
  standingAt,
  type HeldScene,
} from "./held-scene";
import { askForLayout, listenToKeys } from "./keyboard";
import { KeyNames } from "./key-names";
import { LedgerLine } from "./ledger-line";
import { PhraseLine } from "./line/phrase-line";
import type { Link } from "./link";
import { Pad } from "./pad";
import { nextSpeed } from "./picture/clock";
import { Picture } from "./picture/picture";
import { caption, nextStretch, onFrame, stretchOf, type Order, type Playing } from "./picture/playback";
import { PlacingPanel } from "./placing/placing-panel";
import { Problems, whyNotEditable } from "./problems";
import { Recordings } from "./recordings";
import { SentencePanel } from "./sentence-panel";
import { KeyStamps } from "./stamps";
import { onThemeChange } from "./theme";
import { TransportRow } from "./transport-row";

/** How often the playhead is told to the host while playing, in milliseconds. */
const tellEvery = 100;

export class Viewer {
  readonly #link: Link;
  readonly #page = element("div", { class: "page" });
  readonly #names = new KeyNames();
  readonly #stamps = new KeyStamps();
  readonly #adjuster = new Adjuster();
  readonly #ledger = new LedgerLine();
  readonly #sentence = new SentencePanel();
  readonly #problems: Problems;
  readonly #picture: Picture;
  readonly #placing: PlacingPanel;
  readonly #recordings: Recordings;
  readonly #pad: Pad;
  readonly #transport: TransportRow;
  readonly #line: PhraseLine;
  readonly #strip: Strip;
  #scene: HeldScene | undefined;
  #playing: Playing = { what: "on" };
  #drawing = 0;
  #toldAt = 0;
  #told = "";
  #tellLater: ReturnType<typeof setTimeout> | undefined;
  #shownScene: HeldScene | undefined;
  #lineLength = 0;

  constructor(place: HTMLElement, link: Link) {
    this.#link = link;
    const kept = link.kept();
    this.#picture = new Picture({
      pressed: (x, y) => {
        this.#picture.focus();
        if (this.#placing.active) this.#placing.press(x, y);
      },
      pointed: (at) => {
        if (this.#placing.active) this.#placing.look(at);
      },
    });
    this.#placing = new PlacingPanel(this.#picture, {
      keep: (points) => {
        link.post({ ...points, stamp: this.#stamp() });
      },
      left: () => {
        link.post({ type: "placing", placing: false });
        this.#picture.focus();
      },
      changed: () => {
        this.#draw();
      },
    });
    this.#recordings = new Recordings(
      this.#picture,
      {
        changed: () => {
          this.#frameShown();
        },
        switched: () => {
          this.#draw();
        },
        unplayable: (file, reason) => {
          link.post({ type: "unplayable", file, reason });
        },
        muted: () => {
          this.#sentence.say(
            "note",
            "The sound is off until you click in the page: turn it on in the transport row.",
          );
        },
      },
      kept?.at ?? 0,
      kept?.source ?? 0,
    );
    this.#problems = new Problems((line, column) => {
      link.post({ type: "open text", line, column });
    });
    this.#pad = new Pad((command) => {
      this.#press(command);
    });
    this.#transport = new TransportRow({
      act: (action) => {
        this.#act(action);
      },
      speed: (speed) => {
        this.#recordings.setSpeed(speed);
      },
      time: (at) => {
        this.#goTo(at);
      },
      recording: (index) => {
        this.#recordings.choose(index);
      },
      sound: (on) => {
        this.#recordings.setSound(on);
        this.#draw();
      },
      fault: (message) => {
        this.#sentence.say("error", message);
      },
      leave: () => {
        this.#picture.focus();
      },
    });
    this.#line = new PhraseLine({
      go: (at) => {
        this.#picture.focus();
        this.#goTo(at);
      },
      neighbour: (direction) => {
        this.#toNeighbour(direction);
      },
    });
    this.#strip = new Strip({
      changed: (item, field, value) => {
        this.#sentence.keyPressed();
        link.post({ type: "field", version: this.#scene?.version ?? 0, index: item.index, field, value });
      },
      remove: (item) => {
        link.post({ type: "command", command: "boutline.delete", stamp: { ...this.#stamp(), at: item.at } });
      },
      fault: (message) => {
        this.#sentence.say("error", message);
      },
      leave: () => {
        this.#picture.focus();
      },
    });
    this.#build(place);
    if (kept !== undefined) {
      this.#recordings.setSpeed(kept.speed);
      this.#recordings.setSound(kept.sound);
    }
    link.listen((message) => {
      this.#receive(message);
    });
    link.post({ type: "ready" });
    // A page made anew, its tab hidden meanwhile, is not placing any more.
    link.post({ type: "placing", placing: false });
    this.#draw();
  }

  #build(place: HTMLElement): void {
    this.#picture.box.append(this.#placing.lens);
    this.#page.append(
      element("div", { class: "top" }, this.#ledger.element, this.#problems.element),
      this.#pad.halves.left,
      this.#picture.stage,
      this.#pad.halves.right,
      this.#pad.common,
      this.#sentence.element,
      this.#placing.element,
      this.#transport.element,
      this.#line.element,
      this.#strip.element,
    );
    place.replaceChildren(this.#page);
    this.#nameKeys();
    void askForLayout(this.#names, () => {
      this.#nameKeys();
    });
    listenToKeys(this.#stamps, this.#names, {
      shown: () => this.#stamp(),
      focused: (focused) => {
        this.#link.post({ type: "focus", focused });
      },
      pressed: () => {
        this.#sentence.keyPressed();
      },
      learned: () => {
        this.#nameKeys();
      },
      escape: () => {
        if (this.#playing.what !== "on") this.#setPlaying({ what: "on" });
      },
      toPicture: () => {
        this.#picture.focus();
      },
    });
    onThemeChange(() => {
      this.#line.redraw();
    });
    const tick = () => {
      this.#recordings.tick();
      requestAnimationFrame(tick);
    };
    requestAnimationFrame(tick);
  }

  #receive(message: ToViewer): void {
    switch (message.type) {
      case "scene":
        this.#takeScene(message);
        break;
      case "sources":
        this.#recordings.take(message.sources);
        break;
      case "which frame": {
        const taken = message.key === null ? undefined : this.#stamps.take(message.key, performance.now());
        this.#link.post({ type: "stamp", request: message.request, stamp: taken ?? this.#stamp() });
        break;
      }
      case "transport":
        this.#act(message.action);
        break;
      case "show":
        this.#recordings.clock.pause();
        this.#goTo(message.at);
        break;
      case "play":
        this.#playEvidence(message.title, message.stretches);
        break;
      case "write":
        this.#strip.write(message.index, message.field);
        this.#draw();
        break;
      case "say":
        this.#sentence.say(message.severity, message.message);
        break;
      case "keys":
        this.#names.bind(message.keys);
        this.#nameKeys();
        break;
    }
  }

  #takeScene(message: Extract<ToViewer, { type: "scene" }>): void {
    const next = nextScene(this.#scene, message);
    if (next === undefined) {
      this.#link.post({ type: "whole scene" });
      return;
    }
    this.#scene = next;
    const move = this.#adjuster.arrived(next.items, performance.now());
    if (move !== undefined) this.#sendMove(move);
    this.#draw();
  }

  /** The frame on screen, as a stamp. */
  #stamp(): Stamp {
    const { at, frame } = this.#recordings.clock;
    return { at, frame: Math.max(0.1, frame) };
  }

  #press(command: Command): void {
    if ("transport" in command.does) this.#act(command.does.transport);
    else this.#link.post({ type: "command", command: command.id, stamp: this.#stamp() });
  }

  #act(action: TransportAction): void {
    const { clock } = this.#recordings;
    switch (action) {
      case "play":
        if (clock.playing) clock.pause();
        else clock.play();
        break;
      case "frame back":
      case "frame forward":
        this.#leaveEvidence();
        clock.step(action === "frame back" ? -1 : 1);
        break;
      case "second back":
        this.#goTo(Math.max(0, clock.at - 1000));
        break;
      case "second forward":
        this.#goTo(clock.at + 1000);
        break;
      case "previous entry":
        this.#toNeighbour(-1);
        break;
      case "next entry":
        this.#toNeighbour(1);
        break;
      case "next waiting":
        this.#toWaiting();
        break;
      case "slower":
      case "faster":
        this.#recordings.setSpeed(nextSpeed(this.#recordings.speed, action === "slower" ? -1 : 1));
        break;
      case "again":
        this.#again();
        break;
      case "beginning earlier":
      case "beginning later":
        this.#adjust("beginning", action === "beginning earlier" ? -1 : 1);
        break;
      case "end earlier":
      case "end later":
        this.#adjust("end", action === "end earlier" ? -1 : 1);
        break;
      case "zoom in":
        this.#picture.zoomBy(1.5);
        break;
      case "zoom out":
        this.#picture.zoomBy(1 / 1.5);
        break;
      case "whole picture":
        this.#picture.showWhole();
        break;
      case "go to time":
        this.#transport.editTime();
        break;
      case "next recording":
        this.#recordings.choose((this.#recordings.chosen + 1) % Math.max(1, this.#recordings.sources.length));
        break;
      case "place fit":
      case "place platforms":
        this.#beginPlacing(action === "place fit" ? "fit" : "platforms");
        break;
      case "nudge left":
        this.#placing.nudge(-1, 0);
        break;
      case "nudge right":
        this.#placing.nudge(1, 0);
        break;
      case "nudge up":
        this.#placing.nudge(0, -1);
        break;
      case "nudge down":
        this.#placing.nudge(0, 1);
        break;
      case "keep points":
        this.#placing.keep();
        break;
      case "take back point":
        this.#placing.takeBack();
        break;
      case "leave placing":
        this.#placing.leave();
        break;
    }
  }

  #beginPlacing(what: "fit" | "platforms"): void {
    if (this.#scene?.head.editable !== true || this.#placing.active) return;
    if (!this.#recordings.hasPicture) {
      this.#sentence.say("error", "Points are placed in a picture, and there is none here.");
      return;
    }
    this.#recordings.clock.pause();
    this.#leaveEvidence();
    this.#placing.begin(what, this.#scene.head);
    this.#link.post({ type: "placing", placing: true });
    this.#picture.focus();
  }

  /** Takes the picture to a time the user chose; what was being played in a loop is over unless the time lies in it. */
  #goTo(at: number): void {
    const { stretch } = this.#playing.what === "again" ? this.#playing : { stretch: undefined };
    if (stretch === undefined || at < stretch.from || at > stretch.to) this.#setPlaying({ what: "on" });
    this.#recordings.clock.show(at);
  }

  #toNeighbour(direction: -1 | 1): void {
    const at = neighbour(this.#scene?.items ?? [], this.#recordings.clock.at, direction);
    if (at !== undefined) this.#goTo(at);
  }

  #toWaiting(): void {
    const item = nextWaiting(this.#scene?.items ?? [], this.#recordings.clock.at);
    if (item === undefined) this.#sentence.say("note", "No call is waiting.");
    else this.#goTo(item.at);
  }

  #again(): void {
    if (this.#playing.what === "again") {
      this.#setPlaying({ what: "on" });
      return;
    }
    const { clock } = this.#recordings;
    const phrase = phraseInHand(this.#scene?.items ?? [], clock.at);
    if (phrase === undefined) {
      this.#sentence.say("error", "No phrase has begun before this frame.");
      return;
    }
    const stretch = stretchOf(phrase);
    this.#setPlaying({ what: "again", stretch });
    clock.show(stretch.from);
    clock.play();
  }

  #playEvidence(title: string, stretches: readonly { from: number; to: number }[]): void {
    const [first] = stretches;
    if (first === undefined) return;
    this.#setPlaying({ what: "evidence", title, stretches, index: 0, done: false });
    this.#recordings.clock.show(first.from);
    this.#recordings.clock.play();
  }

  #leaveEvidence(): void {
    if (this.#playing.what === "evidence") this.#setPlaying({ what: "on" });
  }

  #setPlaying(playing: Playing): void {
    this.#playing = playing;
    this.#draw();
  }

  #obey(playing: Playing, order: Order): void {
    if (order.do === "jump") this.#recordings.clock.show(order.to);
    if (order.do === "stop") this.#recordings.clock.pause();
    if (playing !== this.#playing) this.#setPlaying(playing);
  }

  #adjust(end: "beginning" | "end", frames: -1 | 1): void {
    const { clock } = this.#recordings;
    if (this.#scene?.head.editable !== true) return;
    const now = performance.now();
    const current = this.#adjuster.current(now);
    const item = current?.item ?? itemInHand(this.#scene.items, clock.at);
    const field = item === undefined ? undefined : endField(item.kind, end);
    if (item === undefined || field === undefined) {
      this.#sentence.say(
        "error",
        item === undefined ? "There is no entry at or before this frame." : "This entry has no end to move.",
      );
      return;
    }
    const from =
      current?.field === field
        ? current.at
        : end === "beginning"
          ? item.at
          : untilOf(this.#scene.items, item);
    if (from === null) {
      this.#sentence.say("error", "This entry is still open: its end is set by halt.");
      return;
    }
    const at = clock.beside(from, frames);
    clock.pause();
    clock.show(at);
    const move = this.#adjuster.ask({ item, field, at }, now);
    if (move !== undefined) this.#sendMove(move);
  }

  #sendMove({ item, field, at }: Move): void {
    this.#link.post({
      type: "field",
      version: this.#scene?.version ?? 0,
      index: item.index,
      field,
      value: formatTime(at as Milliseconds),
    });
  }

  /** Another frame is on screen, or the clock started or stopped. */
  #frameShown(): void {
    const { clock } = this.#recordings;
    if (clock.playing) {
      const [playing, order] = onFrame(this.#playing, clock.at);
      if (order.do !== "nothing") this.#obey(playing, order);
    }
    this.#tell();
    this.#draw();
  }

  /** Tells the host where the playhead is: at once when still, now and then while playing. */
  #tell(): void {
    const { at, playing } = this.#recordings.clock;
    const told = `${at} ${playing}`;
    if (told === this.#told) return;
    const wait = this.#toldAt + tellEvery - performance.now();
    clearTimeout(this.#tellLater);
    if (wait > 0) {
      this.#tellLater = setTimeout(() => {
        this.#tell();
      }, wait);
      return;
    }
    this.#told = told;
    this.#toldAt = performance.now();
    this.#link.post({ type: "playhead", at, playing });
    const { speed, chosen, sound } = this.#recordings;
    this.#link.keep({ at, speed, source: chosen, sound });
  }

  #nameKeys(): void {
    this.#pad.nameKeys(this.#names);
    this.#transport.nameKeys(this.#names);
    this.#draw();
  }

  /** Draws the page again with the next picture. */
  #draw(): void {
    cancelAnimationFrame(this.#drawing);
    this.#drawing = requestAnimationFrame(() => {
      this.#show();
    });
  }

  #show(): void {
    const recordings = this.#recordings;
    const { clock } = recordings;
    this.#transport.show(clock, this.#playing.what === "again");
    this.#transport.showSpeed(recordings.speed);
    this.#transport.showSound(recordings.sound, recordings.hasPicture);
    this.#transport.showState(recordings.state);
    this.#transport.showRecordings(recordings.sources, recordings.chosen);
    this.#showCaption();
    const scene = this.#scene;
    if (scene === undefined) return;
    const { head, items } = scene;
    const item = itemInHand(items, clock.at);
    const phrase = phraseInHand(items, clock.at);
    const placing = this.#placing.active;
    this.#page.classList.toggle("placing-points", placing);
    this.#page.classList.toggle("unreadable", !head.readable);
    this.#ledger.show(head, standingAt(scene, clock.at));
    this.#problems.show(head);
    this.#pad.show(head, phrase, placing ? "Points are being placed." : head.editable ? "" : whyNotEditable);
    const news = scene !== this.#shownScene;
    this.#sentence.show(item, phrase, head.editable ? this.#names : undefined, news || !clock.playing);
    this.#showLine(scene, news);
    this.#line.moveTo(clock.at, item, true);
    this.#strip.show(head, items, item);
    this.#picture.mark(placing ? this.#placing.marks() : this.#poses(scene, clock.at, clock.frame));
    this.#shownScene = scene;
  }

  /** The line is laid out anew only where the bout or its length has changed. */
  #showLine(scene: HeldScene, news: boolean): void {
    const last = scene.items.reduce((most, { at, until }) => Math.max(most, until ?? at), 0);
    const length = Math.max(60_000, this.#recordings.clock.end ?? 0, last + 10_000);
    const reach = this.#recordings.hasPicture ? length : Math.max(length, this.#recordings.clock.at + 60_000);
    // Without a recording the line grows by whole minutes.
    const rounded = this.#recordings.hasPicture ? reach : Math.ceil(reach / 60_000) * 60_000;
    if (!news && rounded === this.#lineLength) return;
    this.#lineLength = rounded;
    this.#line.show(scene, rounded);
  }

  #poses({ head }: HeldScene, at: number, frame: number) {
    return head.poses
      .filter((pose) => Math.abs(pose.at - at) < frame / 2)
      .flatMap(({ points }) => points.map(([x, y]) => ({ x, y, words: "", strong: false })));
  }

  #showCaption(): void {
    const playing = this.#playing;
    const buttons: (readonly [string, () => void])[] =
      playing.what === "on" ? [] : [["leave", () => this.#setPlaying({ what: "on" })]];
    if (playing.what === "evidence" && !playing.done && playing.stretches.length > 1)
      buttons.unshift(["next", () => this.#obey(...nextStretch(playing))]);
    this.#picture.caption(caption(playing), buttons);
  }
}

function untilOf(items: readonly Item[], { index }: Pick<Item, "index">): number | null {
  return items.find((item) => item.index === index)?.until ?? null;
}
