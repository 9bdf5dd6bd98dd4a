// What counts as right for a clip: what the bout file says, until a panel of three or more has answered apart.

import { offenceNamed, type Ledger, type PhraseRow, type Row } from "../rules";
import type { Side } from "../bout/words";
import {
  answerSchema,
  canonicalJson,
  emptyAnswer,
  type Answer,
  type HaltReason,
  type Paper,
  type SeminarAnswers,
  type SeminarKey,
} from "./seminar-format";

/** Fewer don't make a reference. */
export const smallestPanel = 3;

/** The bout file's own answer to a phrase: what was tagged and what stands. Parts it does not tell are null. */
export function answerOfBout(ledger: Ledger, row: PhraseRow, paper: Paper): Answer {
  const { entry, phrase } = row;
  const card = cardAfter(ledger, row);
  if (paper === "assistants") {
    const early = card !== undefined && card.entry.for === "early start" ? card.entry.to : null;
    return {
      ...emptyAnswer,
      assistants: { lifting: null, feet: null, earlyStart: early, looseChair: null },
    };
  }
  const hit = (side: Side) => {
    const lit = [entry.lamps?.[side] ?? []].flat();
    const taken = entry.annulled === side || entry.annulled === "both";
    if (lit.includes("valid")) return taken ? ("not valid" as const) : ("valid" as const);
    return lit.includes("off-target") ? "off-target" : lit.includes("fault") ? "not valid" : "none";
  };
  return {
    why: whyOf(row),
    opener: phrase.opener ?? (entry.actions !== undefined && entry.actions.length > 0 ? "nobody" : null),
    actions: entry.actions === undefined ? null : [...entry.actions],
    hit: entry.lamps === undefined ? null : { left: hit("left"), right: hit("right") },
    award: phrase.stands,
    card:
      card === undefined
        ? "none"
        : {
            to: card.entry.to,
            card: card.entry.card,
            group: groupOf(ledger, card.entry),
          },
    sure: null,
  };
}

type CardRow = Extract<Row, { readonly kind: "card" }>;

/** The first card between this phrase and the next. */
function cardAfter({ rows }: Ledger, row: PhraseRow): CardRow | undefined {
  for (let index = rows.indexOf(row) + 1; index < rows.length; index++) {
    const other = rows[index];
    if (other?.kind === "phrase") return undefined;
    if (other?.kind === "card") return other;
  }
  return undefined;
}

function groupOf({ edition }: Ledger, { for: offence, group }: CardRow["entry"]): 1 | 2 | 3 | 4 | null {
  const known = offenceNamed(edition, offence)?.group ?? group;
  return known === 1 || known === 2 || known === 3 || known === 4 ? known : null;
}

function whyOf({ entry, phrase }: PhraseRow): HaltReason | null {
  const { because } = entry;
  switch (because) {
    case undefined:
      return phrase.stands === null || phrase.stands === "none" ? null : "touch";
    case "no lamp":
    case "unseen":
      return null;
    case "double at the deciding touch":
      return "touch";
    default:
      return because;
  }
}

/** A key with the panel's answers: each clip scored where all who answered agree in every part, sureness apart. */
export function withPanel(key: SeminarKey, roles: readonly SeminarAnswers[]): SeminarKey {
  const answerBy = roles.map(({ role = "", items }) => ({
    by: role,
    answers: new Map(items.map(({ clip, answer }) => [clip, answer])),
  }));
  const panelOf = (clip: string) =>
    answerBy.flatMap(({ by, answers }) => {
      const answer = answers.get(clip) ?? null;
      return answer === null ? [] : [{ by, answer }];
    });
  return {
    ...key,
    clips: key.clips.map((clip) => {
      // A clip and its repeats are one question: what is held of one is held of all.
      const first = clip.repeats ?? clip.id;
      const all = key.clips
        .filter(({ id, repeats }) => id === first || repeats === first)
        .flatMap(({ id }) => panelOf(id));
      const reference = new Set(all.map(({ by }) => by)).size < smallestPanel ? undefined : agreed(all);
      return {
        ...clip,
        panel: panelOf(clip.id),
        reference: reference ?? null,
        standing: reference === undefined ? ("for discussion" as const) : ("scored" as const),
      };
    }),
  };
}

type PanelAnswer = SeminarKey["clips"][number]["panel"][number];

/** What all hold; undefined where two differ in a part, or a part was not answered by three, so that nothing is left. */
function agreed(panel: readonly PanelAnswer[]): Answer | undefined {
  const parts = new Map<string, { value: unknown; by: Set<string> }>();
  for (const { by, answer } of panel)
    for (const [part, value] of partsOf(answer)) {
      const known = parts.get(part);
      if (known === undefined) parts.set(part, { value, by: new Set([by]) });
      else if (canonicalJson(known.value) !== canonicalJson(value)) return undefined;
      else known.by.add(by);
    }
  const held = new Map(
    [...parts].flatMap(([part, { value, by }]) => (by.size >= smallestPanel ? [[part, value] as const] : [])),
  );
  if (held.size === 0) return undefined;
  const one = (part: string) => held.get(part) ?? null;
  const hit = { left: one("hit left"), right: one("hit right") };
  const assistants = ["lifting", "feet", "earlyStart", "looseChair"];
  return answerSchema.parse({
    ...Object.fromEntries(
      ["why", "opener", "actions", "award", "card", "sure"].map((part) => [part, one(part)]),
    ),
    hit: hit.left === null && hit.right === null ? null : hit,
    ...(panel.some(({ answer }) => answer.assistants !== undefined)
      ? { assistants: Object.fromEntries(assistants.map((part) => [part, one(part)])) }
      : {}),
  });
}

/** The parts that were answered, by name. */
function partsOf({ assistants, hit, sure: _, ...rest }: Answer): readonly (readonly [string, unknown])[] {
  return [
    ...Object.entries(rest),
    ["hit left", hit?.left ?? null] as const,
    ["hit right", hit?.right ?? null] as const,
    ...Object.entries(assistants ?? {}),
  ].filter(([, value]) => value !== null);
}
