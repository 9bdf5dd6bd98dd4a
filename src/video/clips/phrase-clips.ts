// From picked phrases to a plan of clips: the lead-in before the command to fence, so that an early start can be judged,
// the tail after the halt, and what is told of each.

import path from "node:path";
import { failure, type Result, success } from "../../bout/result";
import { type WrittenEvidence, writtenEvidenceOf } from "../../figures";
import type { Ledger, PhraseRow } from "../../rules";
import { callSentence } from "../../rules/call";
import type { ClipPlan } from "./plan";

export interface ClipWishes {
  /** Seconds before the command to fence and after the halt. */
  readonly lead: number;
  readonly tail: number;
  /** Repeats the last second before the halt, half as fast. */
  readonly slow: boolean;
  readonly captions: boolean;
  readonly burnIn: boolean;
  /** Place in the bout's recordings, from 0. */
  readonly recording: number;
}

export const usualWishes: ClipWishes = {
  lead: 3,
  tail: 2,
  slow: false,
  captions: false,
  burnIn: false,
  recording: 0,
};

export interface PickedBout {
  /** Of the bout file: its name for people and clips, and the SHA-256 of its bytes. */
  readonly name: string;
  readonly hash: string;
  readonly ledger: Ledger;
  /** Entries of the log. */
  readonly entries: readonly number[];
  /** Full path of the recording, and how long it lasts in seconds. */
  readonly source: string;
  readonly length: number;
}

/** What the manifest tells of a clip's phrase. */
export interface ClipEvidence {
  readonly bout: string;
  readonly hash: string;
  readonly phrase: WrittenEvidence;
  readonly number: number;
}

/** The clips of a bout's picked phrases; the failure says which phrase can't be one, and why. */
export function phraseClips(bout: PickedBout, wishes: ClipWishes): Result<readonly ClipPlan[], string> {
  const { ledger, name, source } = bout;
  const offset = wishes.recording === 0 ? 0 : (ledger.bout.recordings[wishes.recording]?.offset ?? 0);
  const plan: ClipPlan[] = [];
  let before: { readonly number: number; readonly halt: number } | undefined;
  for (const entry of bout.entries) {
    const row = ledger.byEntry[entry];
    if (row?.kind !== "phrase" || row.entry.halt === undefined) continue;
    const { number } = row.phrase;
    const start = row.entry.start / 1000 - offset;
    const halt = row.entry.halt / 1000 - offset;
    const told = `${name}: phrase ${number}, at ${row.record.at},`;
    if (halt <= start) return failure(`${told} ends before it begins.`);
    if (start < 0) return failure(`${told} began before this recording.`);
    if (halt > bout.length)
      return failure(
        `${told} ends beyond the end of ${path.basename(source)} (${bout.length.toFixed(3)} s). Is it the recording that was tagged?`,
      );
    if (before !== undefined && start < before.halt)
      return failure(`${told} begins before phrase ${before.number} ends. Put the bout file right first.`);
    before = { number, halt };
    plan.push(clipOf(bout, row, start, halt, wishes));
  }
  return success(plan);
}

function clipOf(
  { ledger, name, hash, source, length }: PickedBout,
  row: PhraseRow,
  start: number,
  halt: number,
  { lead, tail, slow, captions, burnIn }: ClipWishes,
): ClipPlan {
  const { number } = row.phrase;
  const [from, to] = [Math.max(0, start - lead), Math.min(length, halt + tail)];
  const sentence = callSentence(row, ledger);
  const phrase = writtenEvidenceOf(ledger, row.record.index);
  const evidence: ClipEvidence | undefined =
    phrase === undefined ? undefined : { bout: name, hash, phrase, number };
  return {
    source,
    from,
    to,
    name: `${clipName(name)}-${String(number).padStart(3, "0")}`,
    slowRepeat: slow ? { from: Math.max(0, start, halt - 1), to: halt, speed: 0.5 } : undefined,
    // On guard has no call yet: it is told from the halt on.
    captions: captions ? [{ from: halt, to, text: sentence }] : undefined,
    burnIn: burnIn ? sentence : undefined,
    evidence,
  };
}

/** The bout file's name, of letters that every disk and player takes. */
function clipName(boutFile: string): string {
  const bare = path.basename(boutFile).replace(/\.bout\.json$|\.json$/, "");
  return (
    bare
      .normalize("NFKD")
      .replace(/[^A-Za-z0-9_-]+/g, "-")
      .replace(/^-+|-+$/g, "")
      .slice(0, 80) || "bout"
  );
}
