// What could be read aloud after a bout, in at most five lines. Counts are told as they are; a difference is told only
// where it passes its test.

import { opponent, sides, type Side } from "../bout/words";
import type { Ledger, Sided } from "../rules";
import { counted } from "./comparing";
import type { Comparisons, Flow, Reviews, SummaryLine } from "./model";
import type { Entries, EvidencedRate } from "./rates";

export interface Summarized {
  readonly names: Sided<string>;
  readonly phrases: Entries;
  readonly tagged: EvidencedRate;
  readonly comparisons: Comparisons;
  readonly reviews: Reviews;
  readonly flow: Flow;
}

export function summaryOf(ledger: Ledger, figures: Summarized): readonly SummaryLine[] {
  if (figures.phrases.length === 0) return [{ text: "No phrase has been tagged yet.", entries: [] }];
  return [
    result(ledger, figures),
    flow(figures),
    differences(figures),
    touchOrder(figures),
    reviews(figures),
  ].filter((line) => line !== undefined);
}

function result({ end, winner }: Ledger, { names, phrases, tagged }: Summarized): SummaryLine {
  const [left, right] = end.score;
  const [first, second]: readonly [Side, Side] = winner === "right" ? ["right", "left"] : ["left", "right"];
  const score = first === "left" ? `${left} to ${right}` : `${right} to ${left}`;
  const stands =
    winner === null
      ? `${names.left} and ${names.right}: ${score} so far`
      : `${names[first]} beat ${names[second]} ${score}`;
  const seconds = Math.round(end.fencing / 1000);
  const time = `${Math.floor(seconds / 60)}:${String(seconds % 60).padStart(2, "0")}`;
  const told = tagged.count === tagged.of ? "all of them" : `${tagged.count} of them`;
  return {
    text: `${stands}, in ${counted(phrases.length, "phrase")} and ${time} of fencing; ${told} tagged with actions.`,
    entries: phrases,
  };
}

function flow({ names, flow: { line, leadChanges, largestLead } }: Summarized): SummaryLine | undefined {
  const leads = sides.filter((side) => largestLead[side].by > 0);
  const [most] = leads.toSorted((one, other) => largestLead[other].by - largestLead[one].by);
  if (most === undefined || line.length === 0) return undefined;
  const passed =
    leadChanges.length === 0
      ? leads.length === 1
        ? `${names[opponent(most)]} never led`
        : "The lead never passed over"
      : `The lead passed over ${leadChanges.length === 1 ? "once" : `${leadChanges.length} times`}`;
  const { by, score, entry } = largestLead[most];
  return {
    text: `${passed}; the largest lead was ${counted(by, "touch")} for ${names[most]}, at ${score[0]} to ${score[1]} (left first).`,
    entries: entry === null ? leadChanges : [...leadChanges, entry],
  };
}

/** The clearest difference, or that there is none. */
function differences({ comparisons: { tried, list }, phrases }: Summarized): SummaryLine | undefined {
  const apart = list.filter(({ kind }) => kind !== "order");
  if (apart.length === 0) return undefined;
  const [clearest] = apart
    .filter(({ passes }) => passes)
    .toSorted((one, other) => one.adjusted - other.adjusted);
  if (clearest === undefined || clearest.kind === "order")
    return {
      text: `Nothing that was compared differs by more than chance would make it in ${counted(phrases.length, "phrase")} (${counted(tried, "comparison")} tried).`,
      entries: phrases,
    };
  const entries = [...new Set([...clearest.first.entries, ...clearest.second.entries])];
  return {
    text: `${capital(clearest.question)}: ${clearest.words}.`,
    entries: entries.toSorted((one, other) => one - other),
  };
}

function touchOrder({ comparisons: { list }, flow: { order } }: Summarized): SummaryLine | undefined {
  if (order === null) return undefined;
  const passed = list.find(({ kind, passes }) => kind === "order" && passes);
  const entries = [...order.touches.left, ...order.touches.right].toSorted((one, other) => one - other);
  if (passed !== undefined) return { text: `${capital(passed.question)}: ${passed.words}.`, entries };
  return {
    text: `The order of the ${entries.length} touches, in ${counted(order.runs.count, "run")}, shows no pattern beyond chance.`,
    entries,
  };
}

function reviews({ names, reviews: { sides: appeals, officials } }: Summarized): SummaryLine | undefined {
  const told = sides.flatMap((side) => {
    const { asked, granted } = appeals[side];
    return asked.length === 0
      ? []
      : [
          `${names[side]} asked for ${counted(asked.length, "review")} and was granted ${granted.length || "none"}`,
        ];
  });
  if (officials.asked.length > 0)
    told.push(`officials asked for ${counted(officials.asked.length, "review")}`);
  if (told.length === 0) return undefined;
  return {
    text: `${capital(told.join("; "))}.`,
    entries: [...appeals.left.asked, ...appeals.right.asked, ...officials.asked].toSorted((a, b) => a - b),
  };
}

function capital(text: string): string {
  return text.charAt(0).toUpperCase() + text.slice(1);
}
