// The demo's log entries, as a careful tagger would have written them, and the text of its bout file.
import { floorToImage } from "./camera.mjs";
import { normal, seeded } from "./random.mjs";
import { bout, clickLead, fencers, tagged } from "./scenario.mjs";
import { clockText, events, scoreAt, timeText } from "./timeline.mjs";
import { clickNoise, edgesInImage, tapeMarks } from "./truth.mjs";

/** Image fractions are written to five decimals, a hundredth of a pixel. */
const rounded = (value) => Math.round(value * 1e5) / 1e5;

function entries() {
  const deviate = normal(seeded(1904));
  const clicked = (point) => point.map((value) => rounded(value + clickNoise * deviate()));
  const platforms = (frame) => {
    const { left, right } = edgesInImage(frame);
    return { kind: "platforms", at: timeText(frame), left: left.map(clicked), right: right.map(clicked) };
  };
  const found = [];
  for (const event of events) {
    const at = timeText(event.at ?? 0);
    switch (event.kind) {
      case "phrase":
        if (event.clicked) found.push(platforms(event.start - clickLead));
        found.push(phraseEntry(event));
        break;
      case "click":
        found.push(platforms(event.at + 2));
        break;
      case "shot":
        found.push({ kind: "shot", at, name: event.name });
        break;
      case "note":
        found.push({ kind: "note", at, text: event.text });
        break;
      case "fit":
        found.push({
          kind: "fit",
          at,
          points: tapeMarks.map((floor) => ({ image: clicked(floorToImage(floor)), floor })),
        });
        break;
      case "distance":
        found.push({ kind: "distance", at, ...picked(event, ["reference", "to", "change"]) });
        break;
      case "review":
        found.push({ kind: "review", at, ...picked(event, ["by", "result", "award", "call", "appeal"]) });
        break;
      case "card":
        found.push({ kind: "card", at: timeText(event.at + 10), ...picked(event, ["to", "card", "for"]) });
        break;
      case "stop":
        found.push({ kind: "stop", at, until: timeText(event.until), ...picked(event, ["for", "by"]) });
        break;
      case "board":
        found.push({
          kind: "board",
          at,
          score: event.shows ?? scoreAt(event.at).score,
          clock: clockText(event.at),
        });
        break;
      case "period":
        found.push({ kind: "period", at, number: event.number });
        break;
      case "end":
        found.push({ kind: "end", at, by: event.by, winner: event.winner });
        break;
      default:
    }
  }
  return found;
}

const picked = (event, names) =>
  Object.fromEntries(names.filter((name) => event[name] !== undefined).map((name) => [name, event[name]]));

function phraseEntry(phrase) {
  return {
    kind: "phrase",
    start: timeText(phrase.start),
    halt: timeText(phrase.halt),
    ...picked(phrase, ["play", "actions", "call", "lamps", "award", "because", "annulled"]),
    ...(phrase.annulledFor === undefined ? {} : { for: phrase.annulledFor }),
    ...picked(phrase, ["target", "tags", "sure", "star", "note"]),
  };
}

/** The demo's log, in time order. */
export const log = entries();

/** JSON on one line with spaces inside the braces of objects. */
function oneLine(value) {
  if (Array.isArray(value)) return `[${value.map(oneLine).join(", ")}]`;
  if (typeof value === "object" && value !== null) {
    const fields = Object.entries(value).map(([name, field]) => `${JSON.stringify(name)}: ${oneLine(field)}`);
    return fields.length === 0 ? "{}" : `{ ${fields.join(", ")} }`;
  }
  return JSON.stringify(value);
}

const remarks = {
  fit: "The tape crosses on the floor, in metres from the middle: they tie the picture to the piste.",
  platforms:
    "Each platform's near edge, inner corner first, clicked while both sit still. From these comes the drift.",
  phrase: 'A phrase runs from "Fence!" to "Halt!": what was seen, the lamps, what the referee gave.',
  review: "A review belongs to the phrase above it.",
  card: "The touch of a red card is added by the ledger, never written as a phrase.",
  board: "What the scoreboard showed. One of these is wrong; the findings say which.",
};

/** The text of media/demo/demo.bout.json. */
export function boutFileText() {
  const shown = new Set();
  const lines = log.flatMap((entry, index) => {
    const remark = shown.has(entry.kind) ? undefined : remarks[entry.kind];
    shown.add(entry.kind);
    const text = `    ${oneLine(entry)}${index + 1 < log.length ? "," : ""}`;
    return remark === undefined ? [text] : [`    // ${remark}`, text];
  });
  return `${[
    "// An invented bout with a drawn recording, to try Boutline with. left and right are the referee's.",
    "{",
    '  "boutline": 1,',
    '  "bout": {',
    `    ${Object.entries(bout)
      .map(([name, value]) => `${JSON.stringify(name)}: ${oneLine(value)}`)
      .join(",\n    ")}`,
    "  },",
    '  "fencers": {',
    `    "left": ${oneLine(fencers.left)},`,
    `    "right": ${oneLine(fencers.right)}`,
    "  },",
    '  "recordings": [{ "file": "demo.mp4" }],',
    `  "tagged": ${oneLine(tagged)},`,
    '  "log": [',
    ...lines,
    "  ]",
    "}",
  ].join("\n")}\n`;
}
