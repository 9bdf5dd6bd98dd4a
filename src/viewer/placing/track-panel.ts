// Where the platforms stand, live: along the piste and from above, as on the study sheet. Drawn only while it is unfolded.

import { driftChart } from "../../pages/drift-chart";
import { driftPlan } from "../../pages/drift-plan";
import type { Head } from "../../messages/scene";
import { element, setText } from "../dom";

/** Pixels of the drawings; they shrink with the panel. */
const size = { name: "wide", width: 860, right: 0, letters: 0 } as const;

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

  constructor() {
    this.element.addEventListener("toggle", () => {
      this.#draw();
    });
  }

  show({ tracks }: Head): void {
    this.#tracks = tracks;
    this.element.hidden = tracks.length === 0;
    this.#draw();
  }

  #draw(): void {
    const tracks = this.#tracks;
    if (!this.element.open || tracks === this.#drawn || tracks.length === 0) return;
    this.#drawn = tracks;
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
