// What each transport key does in the viewer.

import type { TransportAction } from "../messages/contract";
import { phraseInHand } from "./held-scene";
import { nextSpeed } from "./picture/clock";
import type { Viewer } from "./viewer";

type Part = Pick<
  Viewer,
  | "playhead"
  | "recordings"
  | "picture"
  | "placing"
  | "endMoves"
  | "transport"
  | "sentence"
  | "scene"
  | "link"
  | "picks"
>;

const does: Readonly<Record<TransportAction, (viewer: Part) => void>> = {
  play: ({ playhead }) => playhead.toggle(),
  "frame back": ({ playhead }) => playhead.step(-1),
  "frame forward": ({ playhead }) => playhead.step(1),
  "second back": ({ playhead, recordings }) => playhead.goTo(recordings.clock.at - 1000),
  "second forward": ({ playhead, recordings }) => playhead.goTo(recordings.clock.at + 1000),
  "previous entry": ({ playhead }) => playhead.toNeighbour(-1),
  "next entry": ({ playhead }) => playhead.toNeighbour(1),
  "next waiting": ({ playhead }) => playhead.toWaiting(),
  "pick this": ({ picks, scene, recordings }) =>
    picks.pickByHand(phraseInHand(scene?.items ?? [], recordings.clock.at)),
  "previous picked": ({ picks }) => picks.toNeighbour(-1),
  "next picked": ({ picks }) => picks.toNeighbour(1),
  "play picked": ({ picks }) => picks.play(),
  slower: ({ recordings }) => recordings.setSpeed(nextSpeed(recordings.speed, -1)),
  faster: ({ recordings }) => recordings.setSpeed(nextSpeed(recordings.speed, 1)),
  again: ({ playhead }) => playhead.toggleAgain(),
  "beginning earlier": ({ endMoves }) => endMoves.move("beginning", -1),
  "beginning later": ({ endMoves }) => endMoves.move("beginning", 1),
  "end earlier": ({ endMoves }) => endMoves.move("end", -1),
  "end later": ({ endMoves }) => endMoves.move("end", 1),
  "zoom in": ({ picture }) => picture.zoomBy(1.5),
  "zoom out": ({ picture }) => picture.zoomBy(1 / 1.5),
  "whole picture": ({ picture }) => picture.showWhole(),
  "go to time": ({ transport }) => transport.editTime(),
  "next recording": ({ recordings }) => recordings.chooseNext(),
  "place fit": (viewer) => beginPlacing(viewer, "fit"),
  "place platforms": (viewer) => beginPlacing(viewer, "platforms"),
  "nudge left": ({ placing }) => placing.nudge(-1, 0),
  "nudge right": ({ placing }) => placing.nudge(1, 0),
  "nudge up": ({ placing }) => placing.nudge(0, -1),
  "nudge down": ({ placing }) => placing.nudge(0, 1),
  "keep points": ({ placing }) => placing.keep(),
  "take back point": ({ placing }) => placing.takeBack(),
  "leave placing": ({ placing }) => placing.leave(),
};

export function act(viewer: Part, action: TransportAction): void {
  does[action](viewer);
}

function beginPlacing(viewer: Part, what: "fit" | "platforms"): void {
  const { scene, placing, recordings, playhead, link, picture, sentence } = viewer;
  if (scene?.head.editable !== true || placing.active) return;
  if (!recordings.hasPicture) {
    sentence.say("error", "Points are placed in a picture, and there is none here.");
    return;
  }
  recordings.clock.pause();
  playhead.leave();
  placing.begin(what, scene, recordings.clock.at);
  link.post({ type: "placing", placing: true });
  picture.focus();
}
