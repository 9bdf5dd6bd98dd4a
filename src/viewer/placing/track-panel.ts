// Where the platforms stand, live: along the piste and from above, as on the study sheet. Drawn only while it is unfolded.

import { driftChart } from "../../pages/drift-chart";
import { driftPlan } from "../../pages/drift-plan";
import type { Head } from "../../messages/scene";
import { element, setText } from "../dom";

/** The drawings are as wide as the panel, within these pixels, so that their words keep their size. */
const narrowest = 400;
const widest = 900;

export class TrackPanel {
  readonly #drawings = element("div", { class: "drawings" });
  readonly #words = element("p", { class: "quiet" });
  readonly element = element(
    "details",
    { class: "tracks", hidden: true },
    element("summary", {}, "Where the platforms stand"),
    this.#words,
    this.#drawings,
  );
  #tracks: Head["tracks"] = [];
  #drawn: Head["tracks"] | undefined;
  #width = 0;

  constructor() {
    this.element.addEventListener("toggle", () => {
      this.#draw();
    });
    new ResizeObserver(() => {
      this.#draw();
    }).observe(this.element);
  }

  show({ tracks }: Head): void {
    this.#tracks = tracks;
    this.element.hidden = tracks.length === 0;
    this.#draw();
  }

  #draw(): void {
    const tracks = this.#tracks;
    const width = Math.round(Math.min(widest, Math.max(narrowest, this.element.clientWidth)));
    const same = tracks === this.#drawn && width === this.#width;
    if (!this.element.open || same || tracks.length === 0) return;
    this.#drawn = tracks;
    this.#width = width;
    const size = { name: "wide", width, right: 0, letters: 0 } as const;
    const places = tracks.flatMap((track) => track.places);
    const last = places.at(-1);
    const words = `${places.length} places marked${last === undefined ? "" : `, the last one ${(last.along * 100).toFixed(1)} cm along the piste`}. The study sheet has them in a table, with what they say.`;
    setText(this.#words, words);
    const chart = driftChart(
      { tracks, moves: new Map(), label: `Along the piste: ${words}`, playable: false },
      size,
    );
    const moved = tracks.some((track) => track.places.length > 1);
    const plan = moved ? driftPlan(tracks, size, `From above: ${words}`).text : "";
    // Markup escapes whatever is put into it.
    this.#drawings.innerHTML = chart.text + plan;
  }
}
