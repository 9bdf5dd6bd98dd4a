// A pick as options of the command, and picks saved beside a bout file.

import path from "node:path";
import { explain } from "../bout/explain";
import { pickSchema, picksFileOf, readPicks, type Pick } from "../figures";
import { readText } from "../shelf/text";
import { Unusable } from "./verb";

const text = { type: "string" } as const;
const yes = { type: "boolean" } as const;

export const pickOptions = {
  pick: text,
  fencer: text,
  actions: text,
  families: text,
  scored: text,
  "scored-families": text,
  opener: text,
  award: text,
  "both-lamps": yes,
  review: text,
  "review-by": text,
  card: text,
  "card-to": text,
  stop: text,
  periods: text,
  targets: text,
  tags: text,
  numbers: text,
  star: yes,
  unsure: yes,
} as const;

type Values = { readonly [Name in keyof typeof pickOptions]?: string | boolean | undefined };

/** The pick the options make. Throws `Unusable` with what is wrong. */
export function pickOf({ pick: _, ...values }: Values): Pick {
  const parts: Record<string, unknown> = {};
  for (const name of Object.keys(pickOptions) as (keyof typeof pickOptions)[]) {
    const value = name === "pick" ? undefined : values[name];
    if (value === undefined) continue;
    const part = name.replace(/-([a-z])/g, (_, letter: string) => letter.toUpperCase());
    parts[part] = typeof value === "string" && name !== "fencer" ? listOf(name, value) : value;
  }
  const pick = pickSchema.safeParse(parts);
  if (pick.success) return pick.data;
  const [issue] = pick.error.issues;
  const name = String(issue?.path[0] ?? "").replace(/[A-Z]/g, (letter) => `-${letter.toLowerCase()}`);
  const wrong = issue?.path.reduce<unknown>(
    (value, step) => (value as Readonly<Record<PropertyKey, unknown>> | undefined)?.[step],
    parts,
  );
  throw new Unusable(
    issue === undefined || name === ""
      ? (issue?.message ?? "this is no pick")
      : `--${name} can't be ${JSON.stringify(Array.isArray(wrong) ? wrong.join(",") : wrong)}: ${explain(issue, parts)}`,
  );
}

function listOf(name: string, value: string): readonly (string | number)[] {
  const words = value.split(",").map((word) => word.trim());
  if (words.includes("")) throw new Unusable(`--${name} has an empty word in its list`);
  const counted = name === "numbers" || name === "periods";
  return words.map((word) => (counted && /^\d+$/.test(word) ? Number(word) : word));
}

/** The pick of this name beside the bout file, narrowed by what the options say. */
export async function savedPick(boutFile: string, name: string, given: Pick): Promise<Pick> {
  const file = picksFileOf(boutFile);
  const written = await readText(file);
  if (!written.ok) throw new Unusable(`${file}: ${written.problem}`);
  const picks = readPicks(written.value);
  if (!picks.ok) throw new Unusable(`${file}: ${picks.problem}`);
  const saved = picks.value.saved.find((one) => one.name === name);
  if (saved === undefined) {
    const names = picks.value.saved.map((one) => `"${one.name}"`).join(", ");
    throw new Unusable(
      `${path.basename(file)} has no pick "${name}"; ${names === "" ? "it is empty" : `it has ${names}`}`,
    );
  }
  const both = Object.keys(given).find((part) => Object.hasOwn(saved.pick, part));
  if (both !== undefined)
    throw new Unusable(`the pick "${name}" says ${both} already; leave that option out`);
  return { ...saved.pick, ...given };
}
