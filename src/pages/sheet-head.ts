// Which bout this is: title, result, and the facts a reader needs before any figure.

import { formatDate } from "./dates";
import type { Sheet, StudySheet } from "../figures";
import type { Ledger, Row } from "../rules";
import type { Side } from "../bout/words";
import { markup, type Content, type Markup } from "./markup";
import { clock } from "./numbers";
import { rateCell } from "./rate-cell";
import type { Reader } from "./reader";

export function sheetHead(sheet: Sheet, ledger: Ledger): Markup {
  const { about, fencers, tagged } = ledger.bout;
  const title = filled(about.title) ?? `${fencers.left.name} and ${fencers.right.name}`;
  const [left, right] = sheet.score;
  const eyebrow = [filled(about.event), filled(about.round), formatDate(about.date)].filter(
    (part) => part !== undefined,
  );
  return markup`<header><p class="kind">Study sheet</p><h1>${title}</h1>${
    eyebrow.length > 0 && markup`<p class="event">${eyebrow.join(" \u00b7 ")}</p>`
  }
<div class="result">${fencer("left", ledger)}<p class="score"><span>${left}</span><span class="to">to</span><span>${right}</span></p>${fencer("right", ledger)}</div>
<p class="outcome">${outcome(sheet, ledger)}</p>
<dl class="facts">${[
    fact("Weapon", about.weapon === "epee" ? "\u00e9p\u00e9e" : about.weapon),
    fact("Format", about.format),
    fact(
      "Rules",
      ledger.edition.id === about.rules
        ? about.rules
        : `${about.rules}, not known: counted by ${ledger.edition.id}`,
    ),
    fact("Video refereeing", about.video === undefined ? "unknown" : about.video ? "in use" : "not in use"),
    fact("Phrases", sheet.phrases),
    fact("Fencing time", clock(sheet.fencingSeconds)),
    tagged !== undefined &&
      fact(
        "Tagged by",
        [filled(tagged.by) ?? "unknown", formatDate(tagged.on)]
          .filter((part) => part !== undefined)
          .join(", "),
      ),
  ]}</dl></header>`;
}

/** How much of the bout the figures about actions rest on. */
export function taggedLine({ sheet, evidence }: StudySheet, { play, medium, ledger }: Reader): Markup {
  const { tagged, phrases } = sheet;
  if (phrases === 0)
    return markup`<p class="notice">No phrase has been halted yet; the figures fill as you tag.</p>`;
  const how =
    ledger.bout.recordings.length === 0
      ? "This bout has no recording, so no number can be played."
      : "Every underlined number plays its phrases.";
  const missing = tagged.of - tagged.count;
  return markup`<div class="notice"><p>Phrases with an action tagged:</p>${rateCell(
    play,
    tagged,
    { key: "tagged", title: "phrases with an action tagged" },
    { key: "phrases", title: "all phrases", entries: evidence.phrases },
  )}${
    missing > 0 &&
    markup`<p>Figures about actions leave the ${missing === 1 ? "other one" : `other ${missing}`} out.</p>`
  }${
    medium === "panel" &&
    markup`<p class="hint">${how} <button type="button" class="meaning" data-key="save" data-save="">Save as a file to read and print</button></p>`
  }<p class="key">Bars show the 95 % limits of a share, from none on the left to all on the right: how far off the tagged number may well be. From fewer than five, only the counts and the bar are given.</p></div>`;
}

function fencer(side: Side, { bout }: Ledger): Markup {
  const { name, club, hand, seed } = bout.fencers[side];
  const details = [
    filled(club),
    hand === undefined ? undefined : `${hand}-handed`,
    seed === undefined ? undefined : `seed ${seed}`,
  ].filter((part) => part !== undefined);
  return markup`<div class="fencer ${side}"><p class="name">${name}</p><p class="details">${[side, ...details].join(" \u00b7 ")}</p></div>`;
}

function fact(name: string, value: Content): Markup {
  return markup`<div><dt>${name}</dt><dd>${value}</dd></div>`;
}

function outcome({ winner }: Sheet, ledger: Ledger): string {
  const end = ledger.end.ended === null ? undefined : ledger.byEntry[ledger.end.ended];
  const how = end?.kind === "end" ? endWords(end) : "";
  if (winner === null)
    return ledger.end.ended === null ? "Not decided yet." : `Ended${how}; no winner is known.`;
  return `${ledger.bout.fencers[winner].name} (${winner}) won${how}.`;
}

function endWords({ entry }: Extract<Row, { kind: "end" }>): string {
  switch (entry.by) {
    case "touches":
      return " by touches";
    case "time":
      return " on time";
    default:
      return ` by ${entry.by}`;
  }
}

function filled(text: string | undefined): string | undefined {
  return text === undefined || text.trim() === "" ? undefined : text;
}
