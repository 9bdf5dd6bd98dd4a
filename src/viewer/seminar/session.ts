// One reader's way through a pack: which clip is next, what has been said of it, and how often it was shown. A clip whose
// `seconds` are known is closed: it was answered, or its time was up.

import {
  emptyAnswer,
  mostShowings,
  type Answer,
  type AnswersItem,
  type UncheckedAnswers,
} from "../../figures/seminar-format";
import { orderFor, type PackClip, type SeminarPack } from "../../figures/seminar-pack";
import type { Keeping } from "./keeping";

export class Session {
  readonly pack: SeminarPack;
  readonly clips: readonly PackClip[];
  readonly #keeping: Keeping;
  #answers: UncheckedAnswers;

  constructor(pack: SeminarPack, keeping: Keeping, answers: UncheckedAnswers) {
    this.pack = pack;
    this.#keeping = keeping;
    this.#answers = answers;
    this.clips = orderFor(answers.reader, pack);
    this.#keep();
  }

  get answers(): UncheckedAnswers {
    return this.#answers;
  }
  get live(): boolean {
    return this.#answers.way === "live";
  }
  /** Index in `clips` of the first one that is not closed; their number when all are. */
  get place(): number {
    const index = this.clips.findIndex(({ id }) => (this.item(id)?.seconds ?? null) === null);
    return index === -1 ? this.clips.length : index;
  }
  get answered(): number {
    return this.#answers.items.filter(({ seconds, answer }) => seconds !== null && answer !== null).length;
  }

  item(clip: string): AnswersItem | undefined {
    return this.#answers.items.find((item) => item.clip === clip);
  }
  answerTo({ id, paper }: PackClip): Answer {
    return this.item(id)?.answer ?? (paper === "assistants" ? emptyAssistants : emptyAnswer);
  }
  showingsLeft({ id }: PackClip): number {
    return (this.live ? 1 : mostShowings) - (this.item(id)?.showings ?? 0);
  }

  /** A showing counts from its first frame on, so that closing the page does not win another one. */
  shown({ id }: PackClip): void {
    const item = this.item(id);
    this.#change(id, {
      at: item?.at ?? new Date().toISOString(),
      showings: (item?.showings ?? 0) + 1,
    });
  }
  answer({ id }: PackClip, answer: Answer): void {
    this.#change(id, { answer });
  }
  close({ id }: PackClip, seconds: number): void {
    this.#change(id, { seconds: Math.round(seconds * 10) / 10 });
    this.#keeping.keepSecondsLeft(this.name, undefined);
    if (this.place === this.clips.length && this.#answers.finished === null) {
      this.#answers = { ...this.#answers, finished: new Date().toISOString() };
      this.#keep();
    }
  }

  get secondsLeft(): number {
    return this.#keeping.secondsLeft(this.name) ?? this.pack.answerSeconds;
  }
  set secondsLeft(seconds: number) {
    this.#keeping.keepSecondsLeft(this.name, seconds);
  }

  get name(): string {
    return keptName(this.#answers);
  }

  #change(clip: string, change: Partial<AnswersItem>): void {
    const item = this.item(clip) ?? { clip, at: null, showings: 0, seconds: null, answer: null };
    const others = this.#answers.items.filter((other) => other.clip !== clip);
    this.#answers = { ...this.#answers, items: [...others, { ...item, ...change }] };
    this.#keep();
  }
  #keep(): void {
    this.#keeping.keep(this.name, this.#answers);
  }
}

const emptyAssistants: Answer = {
  ...emptyAnswer,
  assistants: { lifting: null, feet: null, earlyStart: null, looseChair: null },
};

/** What a reader's answers are kept under. */
export function keptName({ reader, role, way }: Pick<UncheckedAnswers, "reader" | "role" | "way">): string {
  return JSON.stringify([reader.trim().toLowerCase(), role?.trim().toLowerCase() ?? null, way]);
}
