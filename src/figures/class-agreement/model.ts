// What a page about a class tells. Every figure names the clips behind it, by their id.

import type { Estimate, FleissKappa, Kappa, ManyReaders, Rate } from "../../statistics";
import type { Way } from "../seminar-format";

export type ClipRate = Rate & { readonly clips: readonly string[] };

export interface AgainstReference {
  readonly rate: ClipRate;
  readonly kappa: Kappa;
}

export interface Sitting {
  readonly reader: string;
  readonly way: Way;
  readonly finished: boolean;
  /** Marks earned of those to be had. */
  readonly marks: { readonly earned: number; readonly of: number; readonly share: number | null };
  /** Null where the pack sets no pass mark. */
  readonly passed: boolean | null;
  readonly call: AgainstReference;
  readonly parts: Readonly<Record<string, AgainstReference>>;
  /** Repeats called as the first time; a pair with a missing call is left out. */
  readonly repeats: ClipRate;
}

export interface Together {
  readonly part: string;
  readonly title: string;
  /** Clips on which two or more answered. */
  readonly clips: readonly string[];
  /** Of these, on which they are not all of one word. */
  readonly split: readonly string[];
  readonly alpha: ManyReaders;
  /** Only over clips which every reader has answered. */
  readonly fleiss: FleissKappa | null;
}

export interface ClipFigures {
  readonly clip: string;
  readonly file: string;
  readonly paper: string;
  readonly standing: "scored" | "for discussion";
  readonly reference: string | null;
  /** Calls as the reference, of those given; null for discussion. */
  readonly right: Rate | null;
  readonly calls: readonly { readonly call: string; readonly count: number }[];
  readonly missing: number;
}

export interface Confusion {
  readonly reference: string;
  readonly said: string;
  readonly count: number;
  readonly clips: readonly string[];
}

export interface ClassAgreement {
  readonly pack: string;
  readonly title: string;
  readonly passMark: number | null;
  readonly scheme: string;
  readonly readers: number;
  readonly sittings: readonly Sitting[];
  readonly together: readonly Together[];
  readonly confusions: readonly Confusion[];
  /** Hardest first; clips for discussion last. Repeats stand under the clip they repeat. */
  readonly clips: readonly ClipFigures[];
  /** Called right, by how sure the reader was: 1 to 4, over all sittings. */
  readonly sureness: readonly { readonly sure: number; readonly rate: ClipRate }[];
  /** As live against at the monitor, by readers who sat both; null where nobody did. */
  readonly ways: {
    readonly live: ClipRate;
    readonly monitor: ClipRate;
    readonly difference: Estimate;
  } | null;
}
