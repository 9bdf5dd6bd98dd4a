// Bouts for tests, read from text as a user's are.

import { readBout, type Bout, type Reading } from "../../src/bout/read";
import { editionNamed, findingsOf, ledger, type Ledger } from "../../src/rules";

export type Written = Readonly<Record<string, unknown>>;

export interface About {
  weapon?: "foil" | "epee" | "sabre";
  format?: "pool" | "elimination" | "veterans" | "training";
  rules?: string;
  video?: boolean;
}

export function textOf(about: About, log: readonly Written[], fencers?: unknown): string {
  return JSON.stringify(
    {
      boutline: 1,
      bout: { weapon: "foil", format: "elimination", rules: "fie-2026", ...about },
      fencers: fencers ?? { left: { name: "Tarn" }, right: { name: "Odrey" } },
      recordings: [],
      log,
    },
    undefined,
    1,
  );
}

export function readingOf(about: About, log: readonly Written[], fencers?: unknown): Reading {
  return readBout(textOf(about, log, fencers));
}

export function boutOf(about: About, log: readonly Written[], fencers?: unknown): Bout {
  const { bout, problems } = readingOf(about, log, fencers);
  if (bout === undefined || problems.length > 0) throw new Error(`no good bout: ${JSON.stringify(problems)}`);
  return bout;
}

export function ledgerOf(about: About, log: readonly Written[], fencers?: unknown): Ledger {
  const bout = boutOf(about, log, fencers);
  const edition = editionNamed(bout.about.rules);
  if (edition === undefined) throw new Error(`no edition ${bout.about.rules}`);
  return ledger(bout, edition);
}

/** Rule, severity and entry of each finding about the log. */
export function foundIn(about: About, log: readonly Written[]): [string, string, number | undefined][] {
  return findingsOf(ledgerOf(about, log)).map(({ rule, severity, entry }) => [rule, severity, entry]);
}

/** `m:ss` or `m:ss.mmm` in the first hour. */
export function at(time: string): string {
  const [minutes = "0", seconds = "0"] = time.split(":");
  const [whole = "0", rest = "000"] = seconds.split(".");
  return `0:${minutes.padStart(2, "0")}:${whole.padStart(2, "0")}.${rest.padEnd(3, "0")}`;
}

/** A phrase with its lamps, from `start` to `halt`. */
export function phrase(start: string, halt: string, fields: Written = {}): Written {
  return { kind: "phrase", start: at(start), halt: at(halt), lamps: lampsFor(fields["award"]), ...fields };
}

function lampsFor(award: unknown): Written {
  if (award === "left" || award === "right") return { [award]: "valid" };
  return award === "both" || award === "pending" ? { left: "valid", right: "valid" } : {};
}
