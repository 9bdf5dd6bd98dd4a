// An invented class: its key and its answers. Nobody in it exists.

import {
  emptyAnswer,
  withCheck,
  type Answer,
  type KeyClip,
  type SeminarAnswers,
  type SeminarKey,
} from "../../src/figures/seminar-format";
import { seededRandom } from "../../src/statistics";

export const idOf = (place: number): string => (0xa0000000 + place).toString(16);

export function answer(award: Answer["award"], rest: Partial<Answer> = {}): Answer {
  return { ...emptyAnswer, award, ...rest };
}

export function clip(place: number, reference: Answer | null, rest: Partial<KeyClip> = {}): KeyClip {
  return {
    id: idOf(place),
    file: `clips/${idOf(place)}.mp4`,
    repeats: null,
    paper: "referee",
    source: {
      bout: "invented.bout.json",
      hash: "0".repeat(64),
      phrase: { kind: "phrase", at: "0:00:01.000", nth: 0 },
    },
    standing: reference === null ? "for discussion" : "scored",
    reference,
    panel: [],
    ...rest,
  };
}

export function keyOf(clips: KeyClip[], passMark: number | null = 0.6): SeminarKey {
  return {
    key: 1,
    pack: "5".repeat(32),
    title: "Evening <seminar>",
    made: "2026-09-01T18:00:00Z",
    ways: ["live", "monitor"],
    hideLamps: false,
    reveal: "never",
    answerSeconds: 20,
    passMark,
    seed: "1",
    clips,
  };
}

/** Answers by the place of the clip. */
export function sitting(
  reader: string,
  said: readonly (Answer | null)[],
  rest: Partial<SeminarAnswers> = {},
): SeminarAnswers {
  return withCheck({
    answers: 1,
    pack: "5".repeat(32),
    reader,
    way: "live",
    started: "2026-09-02T18:00:00Z",
    finished: "2026-09-02T18:20:00Z",
    items: said.map((one, place) => ({
      clip: idOf(place),
      at: "2026-09-02T18:01:00Z",
      showings: 1,
      seconds: 5,
      answer: one,
    })),
    ...rest,
  });
}

/** Twelve readers and twelve clips, one shown again and one for discussion, with seeded slips; one sat twice. */
export function classOfTwelve(): { key: SeminarKey; answers: SeminarAnswers[] } {
  const random = seededRandom(7);
  const chance = (): number => {
    const numbers = new Uint32Array(1);
    random(numbers);
    return (numbers[0] ?? 0) / 2 ** 32;
  };
  const awards = ["left", "right", "none"] as const;
  const full = (side: "left" | "right" | "none", card: boolean): Answer => ({
    why: side === "none" ? "simultaneous" : "touch",
    opener: side === "none" ? "both" : side,
    actions:
      side === "none" ? ["both attack"] : [`${side} attack`, side === "left" ? "right parry" : "left parry"],
    hit: { left: side === "right" ? "none" : "valid", right: side === "left" ? "none" : "valid" },
    award: side,
    card: card ? { to: "left", card: "yellow", group: 1 } : "none",
    sure: 4,
  });
  const references = Array.from({ length: 12 }, (_, place) =>
    full(awards[place % 3] ?? "left", place % 5 === 0),
  );
  const clips = references.map((reference, place) => clip(place, place === 11 ? null : reference));
  clips.push(clip(12, references[0] ?? null, { repeats: idOf(0) }));
  const names = [
    "Ash",
    "Birch",
    "Cedar",
    "Elder",
    "Fern",
    "Hazel",
    "Iris",
    "Juniper",
    "Laurel",
    "Maple",
    "Olive",
    "Rowan",
  ];
  const said = () =>
    clips.map((_, place) => {
      const reference = references[place % 12] ?? emptyAnswer;
      const draw = chance();
      if (draw < 0.04) return null;
      const slip = draw < 0.1 + 0.04 * (place % 12);
      const sure = (slip ? 1 + Math.floor(chance() * 3) : 2 + Math.floor(chance() * 3)) as 1 | 2 | 3 | 4;
      return {
        ...(slip ? full(awards[Math.floor(chance() * 3)] ?? "none", chance() < 0.3) : reference),
        sure,
      };
    });
  const answers = names.map((name) => sitting(name, said()));
  return { key: keyOf(clips), answers: [...answers, sitting("Ash", said(), { way: "monitor" })] };
}
