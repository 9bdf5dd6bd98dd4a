// What would be cut of the picked phrases, and what stands against it, phrase by phrase: one that can't be cut is told
// with its reason and left out, the others can be cut.

import type { Cutting, Preview } from "../messages/picks";
import { callSentence } from "../rules/call";
import type { ClipPlan, ClipWishes, PickedBout } from "../video/clips";

export interface Planned {
  readonly plan: readonly ClipPlan[];
  readonly preview: Preview;
}

export type PhraseClips = (
  bout: PickedBout,
  wishes: ClipWishes,
) =>
  | { readonly ok: true; readonly value: readonly ClipPlan[] }
  | { readonly ok: false; readonly problem: string };

/** Says first what holds of all of them; `offset` in seconds is added to a recording's time to get that of the bout. */
export function plannedClips(
  bout: PickedBout,
  cutting: Cutting,
  recording: { readonly place: number; readonly offset: number },
  notes: readonly string[],
  phraseClips: PhraseClips,
): Planned {
  const wishes = wishesOf(cutting, recording.place);
  const plan: ClipPlan[] = [];
  const clips: Preview["clips"] = [];
  let last: number | undefined;
  for (const entry of bout.entries) {
    const row = bout.ledger.byEntry[entry];
    if (row?.kind !== "phrase" || row.entry.halt === undefined) continue;
    const says = callSentence(row, bout.ledger);
    const tried = phraseClips({ ...bout, entries: [...(last === undefined ? [] : [last]), entry] }, wishes);
    const clip = tried.ok ? tried.value.at(-1) : undefined;
    if (clip === undefined) {
      const why = tried.ok ? "It can't be cut." : withoutBegin(tried.problem, bout.name);
      clips.push({
        name: `phrase ${row.phrase.number}`,
        says,
        from: row.entry.start,
        to: row.entry.halt,
        warning: `Not cut: ${why}`,
      });
      continue;
    }
    last = entry;
    plan.push(clip);
    clips.push({
      name: `phrase ${row.phrase.number}`,
      says,
      from: (clip.from + recording.offset) * 1000,
      to: (clip.to + recording.offset) * 1000,
      warning: shortened(
        clip,
        row.entry.start / 1000 - recording.offset,
        row.entry.halt / 1000 - recording.offset,
        cutting,
      ),
    });
  }
  const length = plan.reduce((sum, { from, to, slowRepeat }) => sum + to - from + slowLength(slowRepeat), 0);
  const left = clips.length - plan.length;
  const leftOut = left === 0 ? [] : [`${left} of the picked phrases can't be cut; the list says why.`];
  return {
    plan,
    preview: {
      type: "clips",
      clips,
      length: length * 1000,
      notes: [...notes, ...leftOut],
      reel: false,
      possible: plan.length > 0,
    },
  };
}

/** A preview that only says why nothing can be cut. */
export function nothingToCut(...notes: readonly string[]): Preview {
  return { type: "clips", clips: [], length: 0, notes: [...notes], reel: false, possible: false };
}

function wishesOf({ leadIn, tail, slowRepeat, captions, burnIn }: Cutting, recording: number): ClipWishes {
  return { lead: leadIn, tail, slow: slowRepeat, captions, burnIn, recording };
}

function slowLength(repeat: ClipPlan["slowRepeat"]): number {
  return repeat === undefined ? 0 : (repeat.to - repeat.from) / repeat.speed;
}

/** Where the recording has less before or after the phrase than was asked for. */
function shortened(clip: ClipPlan, start: number, halt: number, { leadIn, tail }: Cutting): string {
  const told = [
    clip.from > start - leadIn + 0.001
      ? `only ${(start - clip.from).toFixed(1)} s before “Fence!”: the recording begins there`
      : "",
    clip.to < halt + tail - 0.001
      ? `only ${(clip.to - halt).toFixed(1)} s after “Halt!”: the recording ends there`
      : "",
  ];
  return told.filter((one) => one !== "").join("; ");
}

/** The bout file's name, which the panel needn't say in every line. */
function withoutBegin(problem: string, name: string): string {
  return problem.startsWith(`${name}: `) ? problem.slice(name.length + 2) : problem;
}
