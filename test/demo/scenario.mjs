// The demo bout as it is told: an invented foil bout, direct elimination, category B, won 15-12 by the right fencer.
// This is the ground truth of the tests and the script of the drawn recording. Items follow one another in time and their
// lengths are in frames (25 a second); `timeline.mjs` turns them into frame numbers, `log.mjs` into log entries.
//
// The recording is a shortened bout: pauses of a second or so instead of ten, and a first period that ends early.
// Everything in it is made up; no real person, club or event is meant.

export const framesPerSecond = 25;

export const bout = {
  title: "Foil, category B, quarter-final (demo)",
  event: "Harbour Open",
  round: "quarter-final",
  date: "2026-10-17",
  weapon: "foil",
  format: "elimination",
  rules: "wheelchair-2026",
  video: true,
  view: "referee",
};

export const fencers = {
  left: { id: "tarn", name: "Vessa Tarn", club: "Low Quay", hand: "right", category: "B", seed: 3 },
  right: { id: "odrey", name: "Kel Odrey", club: "Millgate", hand: "left", category: "B", seed: 6 },
};

export const tagged = { by: "R. O.", on: "2026-10-18" };

/** Frames before the command to fence at which the platforms are clicked: both fencers sit still then. */
export const clickLead = 6;

const phrase = (lasts, actions, rest) => ({ kind: "phrase", lasts, actions, lamps: {}, ...rest });
const left = (target, rest) => ({ lamps: { left: "valid" }, award: "left", target, ...rest });
const right = (target, rest) => ({ lamps: { right: "valid" }, award: "right", target, ...rest });
const nothing = (because, lamps, rest) => ({ lamps, award: "none", because, ...rest });
const both = { left: "valid", right: "valid" };
/** The platforms are clicked just before this phrase's command. */
const clicked = { clicked: true };
const click = { kind: "click", lasts: 8 };
const recentre = { kind: "stop", lasts: 56, for: ["re-centre"], by: "referee" };

export const items = [
  { kind: "shot", name: "main" },
  {
    kind: "note",
    text: "Made-up bout, drawn by a program. Pauses are shortened and so is the first period.",
  },
  { kind: "wait", lasts: 20 },
  { kind: "fit" },
  { kind: "wait", lasts: 12 },
  { kind: "distance", reference: "left", to: "inner elbow", lasts: 52 },

  phrase(31, ["left attack"], left("chest", clicked)),
  phrase(36, ["left attack", "right parry", "right riposte"], right("flank", clicked)),
  phrase(
    40,
    ["right attack", "left parry", "left riposte"],
    nothing("off-target", { left: "off-target" }, clicked),
  ),
  phrase(30, ["left attack", "right counter-attack"], left("chest", { lamps: both })),
  phrase(27, ["right attack"], right("shoulder", clicked)),
  phrase(26, ["both attack"], nothing("simultaneous", both, clicked)),
  { kind: "board" },
  phrase(20, ["both attack"], nothing("early start", {}, { play: false })),
  { kind: "card", lasts: 36, to: "both", card: "yellow", for: "early start" },
  phrase(31, ["left beat", "left attack"], left("belly", clicked)),
  click,
  recentre,

  phrase(38, ["left attack", "right parry", "right riposte"], right("flank", clicked)),
  phrase(31, ["right attack", "left lean back"], nothing("no lamp", {}, clicked)),
  phrase(
    41,
    ["left attack", "right lean back", "left redoublement"],
    left("chest", { ...clicked, tags: ["distance"] }),
  ),
  phrase(29, ["right attack", "left counter-attack"], right("chest", { lamps: both, ...clicked })),
  { kind: "review", lasts: 50, by: "left", result: "kept", award: "right", appeal: "lost" },
  phrase(34, ["left attack", "right parry", "right riposte"], right("flank", clicked)),
  { kind: "board" },
  phrase(
    40,
    ["left feint", "left compound attack"],
    left("flank", { ...clicked, tags: ["second intention"] }),
  ),
  phrase(
    27,
    ["left attack", "right stop hit"],
    nothing(
      "off-target",
      { left: "off-target", right: "valid" },
      { note: "the attack lands first, on the thigh" },
    ),
  ),
  phrase(
    38,
    ["right feint", "right compound attack", "left stop hit"],
    left("chest", { lamps: both, ...clicked }),
  ),
  { kind: "review", lasts: 54, by: "right", result: "changed", award: "right", appeal: "kept" },
  phrase(
    56,
    ["left attack", "right parry", "right riposte", "left parry", "left counter-riposte"],
    left("flank", { ...clicked, star: true, tags: ["for the seminar"] }),
  ),
  click,
  recentre,

  phrase(32, ["left attack", "right parry", "right riposte"], right("back", clicked)),
  phrase(25, ["right attack"], right("chest", clicked)),
  { kind: "board" },
  { kind: "period", number: 2, lasts: 44 },

  phrase(29, ["left attack", "right counter-attack"], left("belly", { lamps: both, ...clicked })),
  phrase(27, ["right attack"], right("shoulder", { ...clicked, annulled: "right", annulledFor: "card" })),
  { kind: "card", lasts: 36, to: "right", card: "red", for: "lifting from the seat" },
  phrase(
    43,
    ["left attack", "right parry", "right riposte", "left remise"],
    right("flank", { lamps: both, ...clicked, scoreboardForgets: true }),
  ),
  { kind: "board", shows: [8, 8] },
  { kind: "stop", lasts: 34, for: ["score check"], by: "table", scoreboardPutRight: true },
  phrase(34, ["left point in line", "right attack"], left("chest", { lamps: both, ...clicked })),
  phrase(36, ["left attack", "right parry", "right riposte"], right("flank")),
  click,
  recentre,

  phrase(36, ["right taking the blade", "right attack"], right("flank", clicked)),
  { kind: "board" },
  phrase(27, ["left attack"], nothing("off-target", { left: "off-target" }, clicked)),
  phrase(29, ["left attack", "right stop hit"], {
    lamps: both,
    award: "pending",
    target: "chest",
    ...clicked,
  }),
  {
    kind: "review",
    lasts: 56,
    by: "referee",
    result: "decided",
    award: "left",
    call: ["left attack", "right counter-attack"],
  },
  phrase(34, ["right attack", "left parry", "left riposte"], left("flank", clicked)),
  { kind: "stop", lasts: 78, for: ["distance"], by: "referee", resetsDistance: true },
  { kind: "distance", reference: "left", to: "inner elbow", change: 1 },

  phrase(40, ["right attack", "left lean back", "right reprise"], right("chest", clicked)),
  phrase(32, ["left attack", "right lean back"], nothing("no lamp", {}, clicked)),
  phrase(26, ["right attack"], nothing("off-target", { right: "off-target" }, clicked)),
  { kind: "card", lasts: 36, to: "left", card: "red", for: "covering the target" },
  { kind: "board" },
  phrase(25, ["both attack"], nothing("simultaneous", both, clicked)),
  phrase(
    43,
    ["left attack", "right parry", "right riposte", "left lean back"],
    nothing("no lamp", {}, { ...clicked, sure: false, note: "the riposte may have slipped off the sleeve" }),
  ),
  phrase(32, ["left preparation", "left attack"], left("shoulder", clicked)),
  click,
  recentre,

  phrase(
    29,
    ["left attack", "right counter-attack"],
    nothing("off-target", { left: "off-target", right: "valid" }, clicked),
  ),
  phrase(
    36,
    ["right attack", "left parry", "left riposte"],
    nothing("off-target", { left: "off-target" }, clicked),
  ),
  { kind: "stop", lasts: 44, for: ["equipment", "weapon test"], by: "left" },
  phrase(27, ["right beat", "right attack"], right("chest", clicked)),
  phrase(27, ["left attack"], nothing("off-target", { left: "off-target" }, clicked)),
  phrase(
    38,
    ["left attack", "right parry", "right riposte"],
    nothing("off-target", { right: "off-target" }, { ...clicked, tags: ["second intention"] }),
  ),
  phrase(30, ["left attack", "right lean back"], nothing("no lamp", {}, clicked)),
  phrase(27, ["right attack", "left lean back"], nothing("no lamp", {}, clicked)),
  phrase(
    41,
    ["left beat", "left attack", "right parry", "right riposte"],
    right("flank", { ...clicked, star: true }),
  ),
  { kind: "board" },
  click,
  { kind: "wait", lasts: 12 },
  { kind: "end", by: "touches", winner: "right" },
  { kind: "wait", lasts: 50 },
];
