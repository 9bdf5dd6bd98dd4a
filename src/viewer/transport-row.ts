// The transport: play, frame back and forward, this phrase again and again, speed, a time that can be typed into, the
// frame's number, which recording, and how the recording is doing.

import { formatTime, type Milliseconds } from "../bout/time";
import { commandById } from "../messages/commands";
import type { Source, TransportAction } from "../messages/contract";
import { element, fill, setAttribute, setChoice, setText } from "./dom";
import type { KeyNames } from "./key-names";
import { speeds, type Clock } from "./picture/clock";
import type { Recordings } from "./recordings";
import { typedTime } from "./typed-time";

export interface TransportEvents {
  act(action: TransportAction): void;
  speed(speed: number): void;
  time(at: Milliseconds): void;
  recording(index: number): void;
  sound(on: boolean): void;
  fault(message: string): void;
  leave(): void;
}

/** How often the time is written while the picture runs, in milliseconds. */
const every = 200;

export class TransportRow {
  readonly element: HTMLElement;
  readonly #time = element("input", {
    type: "text",
    class: "time",
    "aria-label": "Time at the playhead; type a time to go there",
    autocomplete: "off",
    spellcheck: false,
    value: "0:00:00.000",
  });
  readonly #frame = element("span", { class: "frame" });
  readonly #speed = element("select", { "aria-label": "Speed" });
  readonly #recordings = element("select", { "aria-label": "Recording" });
  readonly #recordingsBox = element("label", { class: "recordings", hidden: true }, this.#recordings);
  readonly #sound = element("button", { type: "button" }, "sound on");
  readonly #state = element("span", { class: "media-state", role: "status" });
  readonly #buttons: { readonly id: string; readonly words: string; readonly button: HTMLButtonElement }[] =
    [];
  #soundOn = true;
  #timeShownAt = -Infinity;
  #shownSources: readonly Source[] | undefined;

  constructor(events: TransportEvents) {
    const act = (id: string, words: string, action: TransportAction) => {
      const button = element("button", { type: "button" }, element("span", {}, words), " ", element("kbd"));
      button.addEventListener("click", () => {
        events.act(action);
      });
      this.#buttons.push({ id: `boutline.${id}`, words, button });
      return button;
    };
    fill(this.#speed, ...speeds.map((one) => element("option", { value: String(one) }, `${one} ×`)));
    this.#speed.value = "1";
    this.#speed.addEventListener("change", () => {
      events.speed(Number(this.#speed.value));
    });
    this.#recordings.addEventListener("change", () => {
      events.recording(Number(this.#recordings.value));
    });
    this.#sound.addEventListener("click", () => {
      events.sound(!this.#soundOn);
    });
    this.#listenToTime(events);
    this.element = element(
      "section",
      { class: "transport", "aria-label": "Transport" },
      act("play", "play", "play"),
      act("frameBack", "◂ frame", "frame back"),
      act("frameForward", "frame ▸", "frame forward"),
      act("again", "again", "again"),
      element("span", { class: "time-box" }, this.#time, this.#frame),
      element("label", { class: "speed" }, element("span", {}, "speed"), this.#speed),
      this.#recordingsBox,
      this.#sound,
      this.#state,
    );
  }

  nameKeys(names: KeyNames): void {
    for (const { id, words, button } of this.#buttons) {
      const command = commandById(id);
      const name = command === undefined ? "" : names.of(command);
      const cap = button.querySelector("kbd");
      if (cap !== null) setText(cap, name === "Space" ? "␣" : name === "Enter" ? "⏎" : name);
      button.title = `${command?.title ?? words}${name === "" ? "" : ` (${name})`}`;
    }
  }

  /** Shows the time at the playhead, except while somebody types another, and how the recording is doing. */
  show(recordings: Recordings, again: boolean): void {
    const { clock, speed, sound, hasPicture, sources, chosen, state } = recordings;
    this.#showTime(clock);
    const [play, , , repeat] = this.#buttons;
    const playing = play?.button.firstElementChild;
    if (playing !== null && playing !== undefined) setText(playing, clock.playing ? "pause" : "play");
    if (repeat !== undefined) setAttribute(repeat.button, "aria-pressed", String(again));
    setChoice(this.#speed, String(speed));
    this.#soundOn = sound;
    this.#sound.hidden = !hasPicture;
    setText(this.#sound, sound ? "sound on" : "sound off");
    setText(this.#state, state);
    if (sources !== this.#shownSources) this.#listRecordings(sources);
    setChoice(this.#recordings, String(chosen));
  }

  /** While the picture runs nobody can read each frame's time, and writing it costs a weak machine more than the frame:
   * without a graphics card all between picture and time is drawn anew. */
  #showTime({ at, number, playing }: Clock): void {
    const now = performance.now();
    if (playing && now - this.#timeShownAt < every) return;
    this.#timeShownAt = now;
    const time = formatTime(at);
    if (document.activeElement !== this.#time && this.#time.value !== time) this.#time.value = time;
    setText(this.#frame, number === undefined ? "" : `frame ${spaced(number)}`);
  }

  #listRecordings(sources: readonly Source[]): void {
    this.#shownSources = sources;
    this.#recordingsBox.hidden = sources.length < 2;
    fill(
      this.#recordings,
      ...sources.map(({ file }, index) =>
        element("option", { value: String(index) }, file.split("/").at(-1) ?? file),
      ),
    );
  }

  editTime(): void {
    this.#time.focus();
    this.#time.select();
  }

  #listenToTime(events: TransportEvents): void {
    const time = this.#time;
    time.addEventListener("focus", () => {
      time.select();
    });
    time.addEventListener("keydown", (event) => {
      if (event.key === "Escape") events.leave();
      if (event.key !== "Enter") return;
      event.preventDefault();
      const typed = typedTime(time.value);
      time.setAttribute("aria-invalid", String(typed === undefined));
      if (typed === undefined) events.fault("A time is written 0:04:12.480, 4:12 or in seconds, 252.5.");
      else {
        events.leave();
        events.time(typed);
      }
    });
    time.addEventListener("blur", () => {
      time.removeAttribute("aria-invalid");
    });
  }
}

/** "12 624", with a narrow space. */
function spaced(count: number): string {
  return String(count).replace(/\B(?=(\d{3})+$)/g, "\u202f");
}
