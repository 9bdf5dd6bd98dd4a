// Names for entries that survive an edit elsewhere in the log: kind, time as written, and which of those that share both.

import type { Ledger } from "../rules";

/** The name of an entry by its place in the log. */
export type EntryKeys = (index: number) => string;

export function entryKeys({ rows }: Ledger): EntryKeys {
  const met = new Map<string, number>();
  const keys = new Map<number, string>();
  for (const { record, entry } of rows) {
    const name = `${entry.kind}.${record.at}`;
    const before = met.get(name) ?? 0;
    met.set(name, before + 1);
    keys.set(record.index, `${name}.${before}`);
  }
  return (index) => keys.get(index) ?? "entry";
}
