// The viewer as a whole: messages in, keys and presses out, and one rule for what is shown: everything follows from the
// bout held and the frame on screen.

import type { Command } from "../messages/commands";
import type { ToViewer } from "../messages/contract";
import { act } from "./actions";
import { Strip } from "./detail/strip";
import { element } from "./dom";
import { EndMoves } from "./end-moves";
import { itemInHand, nextScene, phraseInHand, standingAt, type HeldScene } from "./held-scene";
import { askForLayout, listenToKeys } from "./keyboard";
import { KeyNames } from "./key-names";
import { LedgerLine } from "./ledger-line";
import { PhraseLine } from "./line/phrase-line";
import type { Link } from "./link";
import { Pad } from "./pad";
import { PickPanel } from "./picks/pick-panel";
import { stretchOf } from "./picture/playback";
import { Picture } from "./picture/picture";
import { PlacingPanel } from "./placing/placing-panel";
import { TrackPanel } from "./placing/track-panel";
import { Playhead } from "./playhead";
import { PlayheadReport } from "./playhead-report";
import { Problems, whyNotEditable } from "./problems";
import { Recordings } from "./recordings";
import { ReturnedKeys } from "./returned-keys";
import { SentencePanel } from "./sentence-panel";
import { onThemeChange } from "./theme";
import { TransportRow } from "./transport-row";

export class Viewer {
  readonly link: Link;
  readonly playhead: Playhead;
  readonly endMoves: EndMoves;
  readonly picture: Picture;
  readonly placing: PlacingPanel;
  readonly picks: PickPanel;
  readonly recordings: Recordings;
  readonly transport: TransportRow;
  readonly sentence = new SentencePanel();
  readonly #page = element("div", { class: "page" });
  readonly #names = new KeyNames();
  readonly #returned = new ReturnedKeys();
  readonly #ledger = new LedgerLine();
  readonly #tracks = new TrackPanel();
  readonly #problems: Problems;
  readonly #pad: Pad;
  readonly #line: PhraseLine;
  readonly #strip: Strip;
  readonly #report: PlayheadReport;
  #scene: HeldScene | undefined;
  #shownScene: HeldScene | undefined;
  #lineLength = 0;
  /** Asked for while the recording was still being opened. */
  #toPlay: Extract<ToViewer, { type: "play" }> | undefined;
  #drawing = 0;

  constructor(place: HTMLElement, link: Link) {
    this.link = link;
    const kept = link.kept();
    const fault = (message: string) => {
      this.sentence.say("error", message);
    };
    const leave = () => {
      this.picture.focus();
    };
    const follow = {
      clock: () => this.recordings.clock,
      scene: () => this.#scene,
    };
    this.playhead = new Playhead({
      ...follow,
      say: (severity, message) => {
        this.sentence.say(severity, message);
      },
      changed: () => {
        this.draw();
      },
      played: (run, how) => {
        link.post({ type: "played", run, how });
      },
    });
    this.endMoves = new EndMoves({
      ...follow,
      fault,
      post: (message) => {
        link.post(message);
      },
    });
    this.#report = new PlayheadReport((at, playing) => {
      link.post({ type: "playhead", at, playing });
      const { speed, chosen, sound } = this.recordings;
      link.keep({ at, speed, source: chosen, sound });
    });
    this.picture = new Picture({
      pressed: (x, y) => {
        this.picture.focus();
        if (this.placing.active) this.placing.press(x, y);
      },
      pointed: (at) => {
        if (this.placing.active) this.placing.look(at);
      },
    });
    this.placing = new PlacingPanel(this.picture, {
      keep: (points) => {
        link.post({ ...points, stamp: this.playhead.stamp });
      },
      left: () => {
        link.post({ type: "placing", placing: false });
        this.picture.focus();
      },
      changed: () => {
        this.draw();
      },
      go: (at) => {
        this.playhead.goTo(at);
      },
      again: () => {
        act(this, "place platforms");
      },
    });
    this.recordings = new Recordings(
      this.picture,
      {
        changed: () => {
          this.#frameShown();
        },
        switched: () => {
          this.#playWaiting();
          this.draw();
        },
        tried: (file, picture, sound) => {
          link.post({ type: "tried", file, picture, sound });
        },
        heard: (levels) => {
          this.#line.hear(levels);
        },
        muted: () => {
          this.sentence.say(
            "note",
            "The page may not play sound until you click in it; turn it on again below.",
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
    this.transport = new TransportRow({
      act: (action) => {
        act(this, action);
      },
      speed: (speed) => {
        this.recordings.setSpeed(speed);
      },
      time: (at) => {
        this.playhead.goTo(at);
      },
      recording: (index) => {
        this.recordings.choose(index);
      },
      sound: (on) => {
        this.recordings.setSound(on);
        this.draw();
      },
      fault,
      leave,
    });
    this.#line = new PhraseLine({
      go: (at) => {
        this.picture.focus();
        this.playhead.goTo(at);
      },
      goByKey: (at) => {
        this.playhead.goTo(at);
      },
      neighbour: (direction) => {
        this.playhead.toNeighbour(direction);
      },
      pick: (item) => {
        this.picks.pickByHand(item);
      },
    });
    this.picks = new PickPanel({
      post: (message) => {
        link.post(message);
      },
      command: (command) => {
        link.post({ type: "command", command, stamp: this.playhead.stamp });
      },
      go: (at) => {
        this.playhead.goTo(at);
      },
      at: () => this.recordings.clock.at,
      play: (title, phrases) => {
        this.playhead.playEvidence(title, phrases.map(stretchOf));
      },
      say: (severity, message) => {
        this.sentence.say(severity, message);
      },
      changed: () => {
        this.#line.mark(this.picks.entries);
      },
    });
    this.#strip = new Strip({
      changed: (item, field, value) => {
        this.sentence.keyPressed();
        link.post({ type: "field", version: this.#scene?.version ?? 0, index: item.index, field, value });
      },
      remove: (item) => {
        link.post({
          type: "command",
          command: "boutline.delete",
          stamp: { ...this.playhead.stamp, at: item.at },
        });
      },
      fault,
      leave,
    });
    this.#build(place);
    if (kept !== undefined) {
      this.recordings.setSpeed(kept.speed);
      this.recordings.setSound(kept.sound);
    }
    link.listen((message) => {
      this.#receive(message);
    });
    link.post({ type: "ready" });
    // A page made anew, its tab hidden meanwhile, is not placing any more.
    link.post({ type: "placing", placing: false });
    this.draw();
  }

  get scene(): HeldScene | undefined {
    return this.#scene;
  }

  /** Draws the page again with the next picture. */
  draw(): void {
    cancelAnimationFrame(this.#drawing);
    this.#drawing = requestAnimationFrame(() => {
      this.#show();
    });
  }

  #build(place: HTMLElement): void {
    this.#page.append(
      element("div", { class: "top" }, this.#ledger.element, this.#problems.element),
      this.#pad.halves.left,
      this.picture.stage,
      this.#pad.halves.right,
      this.#pad.common,
      this.sentence.element,
      this.placing.element,
      this.transport.element,
      this.#line.element,
      this.picks.element,
      this.#strip.element,
      this.#tracks.element,
    );
    place.replaceChildren(this.#page);
    // What is scrolled to, by the keyboard too, must not come to lie behind a picture that stays in sight.
    new ResizeObserver(() => {
      const { stage } = this.picture;
      const stays = getComputedStyle(stage).position === "sticky";
      place.style.scrollPaddingTop = stays ? `${stage.offsetHeight}px` : "";
    }).observe(this.picture.stage);
    const nameKeys = () => {
      this.#nameKeys();
    };
    nameKeys();
    void askForLayout(this.#names, nameKeys);
    listenToKeys(this.#names, this.#returned, () => this.placing.active, {
      command: (command) => {
        this.#press(command);
      },
      pressedForCommand: (code) => {
        this.link.post({ type: "key", code, stamp: this.playhead.stamp });
      },
      focused: (focused) => {
        this.link.post({ type: "focus", focused });
      },
      pressed: () => {
        this.sentence.keyPressed();
      },
      learned: nameKeys,
      escape: () => {
        this.playhead.leave();
      },
      toPicture: () => {
        this.picture.focus();
      },
    });
    onThemeChange(() => {
      this.#line.redraw();
    });
    const tick = () => {
      this.recordings.tick();
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
        this.recordings.take(message.sources);
        break;
      case "which frame":
        this.link.post({ type: "stamp", request: message.request, stamp: this.playhead.stamp });
        break;
      case "transport":
        act(this, message.action);
        break;
      case "picked":
        this.picks.take(message);
        break;
      case "clips":
        this.picks.showPreview(message);
        break;
      case "show":
        this.recordings.clock.pause();
        this.playhead.goTo(message.at);
        break;
      case "play":
        this.#toPlay = message;
        this.#playWaiting();
        break;
      case "returned":
        this.#returned.returned(message.command, message.code);
        break;
      case "write":
        this.#strip.write(message.index, message.field);
        this.draw();
        break;
      case "say":
        this.sentence.say(message.severity, message.message);
        break;
      case "keys":
        this.#names.bind(message.keys);
        this.#nameKeys();
        break;
    }
  }

  /** Plays what the host has asked for once the recording is there, or there is known to be none. */
  #playWaiting(): void {
    const message = this.#toPlay;
    if (message === undefined || (this.recordings.pending && message.stretches.length > 0)) return;
    this.#toPlay = undefined;
    const { title, stretches, run } = message;
    if (run !== undefined && stretches.length > 0 && !this.recordings.hasPicture)
      this.link.post({ type: "played", run, how: "no picture" });
    else this.playhead.playEvidence(title, stretches, run);
  }

  #takeScene(message: Extract<ToViewer, { type: "scene" }>): void {
    const next = nextScene(this.#scene, message);
    if (next === undefined) {
      this.link.post({ type: "whole scene" });
      return;
    }
    this.#scene = next;
    this.endMoves.sceneArrived(next);
    this.placing.follow(next);
    this.draw();
  }

  #press(command: Command): void {
    if ("transport" in command.does) act(this, command.does.transport);
    else this.link.post({ type: "command", command: command.id, stamp: this.playhead.stamp });
  }

  /** Another frame is on screen, or the clock started or stopped. */
  #frameShown(): void {
    this.playhead.frameShown();
    const { at, playing } = this.recordings.clock;
    this.#report.at(at, playing);
    this.draw();
  }

  #nameKeys(): void {
    this.#pad.nameKeys(this.#names);
    this.transport.nameKeys(this.#names);
    this.draw();
  }

  #show(): void {
    const { clock } = this.recordings;
    this.transport.show(this.recordings, this.playhead.again);
    this.picture.caption(...this.playhead.caption);
    const scene = this.#scene;
    if (scene === undefined) return;
    const { head, items } = scene;
    const item = itemInHand(items, clock.at);
    const phrase = phraseInHand(items, clock.at);
    const placing = this.placing.active;
    const news = scene !== this.#shownScene;
    this.#page.classList.toggle("placing-points", placing);
    this.#page.classList.toggle("unreadable", !head.readable);
    this.#ledger.show(head, standingAt(scene, clock.at));
    this.#problems.show(head);
    if (news) {
      this.#tracks.show(head);
      this.picks.show(scene);
    }
    this.#pad.show(head, phrase, placing ? "Points are being placed." : head.editable ? "" : whyNotEditable);
    this.sentence.show(item, phrase, head.editable ? this.#names : undefined, news || !clock.playing);
    this.#showLine(scene, news);
    this.#line.moveTo(clock.at, item, clock.playing);
    this.#strip.show(head, items, item);
    this.picture.mark(placing ? this.placing.marks() : poses(scene, clock.at, clock.frame));
    this.#shownScene = scene;
  }

  /** The line is laid out anew only where the bout or its length has changed. */
  #showLine(scene: HeldScene, news: boolean): void {
    const { clock, hasPicture } = this.recordings;
    const last = scene.items.reduce((most, { at, until }) => Math.max(most, until ?? at), 0);
    const reach = Math.max(60_000, clock.end ?? 0, last + 10_000);
    // Without a recording the line grows by whole minutes.
    const length = hasPicture ? reach : Math.ceil(Math.max(reach, clock.at + 30_000) / 60_000) * 60_000;
    if (!news && length === this.#lineLength) return;
    this.#lineLength = length;
    this.#line.show(scene, length);
  }
}

function poses({ head }: HeldScene, at: number, frame: number) {
  return head.poses
    .filter((pose) => Math.abs(pose.at - at) < frame / 2)
    .flatMap(({ points }) => points.map(([x, y]) => ({ x, y, words: "", strong: false })));
}
