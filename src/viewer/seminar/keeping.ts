// Where a reader's answers are between two openings of the page: the browser's own storage, if it has one for a page from
// a disk. Such pages may share it, so it is asked by the pack's number and the reader's name.

import { answersSchema, checkOf, withCheck, type UncheckedAnswers } from "../../figures/seminar-format";

export interface Keeping {
  /** False where nothing outlives the page. */
  readonly works: boolean;
  readonly find: (name: string) => UncheckedAnswers | undefined;
  readonly keep: (name: string, answers: UncheckedAnswers) => void;
  /** Seconds left to answer the clip that is shown, as live. */
  readonly secondsLeft: (name: string) => number | undefined;
  readonly keepSecondsLeft: (name: string, seconds: number | undefined) => void;
}

export function keepingFor(pack: string): Keeping {
  const storage = usable();
  const place = (name: string) => `boutline seminar ${pack} ${name}`;
  const set = (key: string, text: string | undefined) => {
    try {
      if (text === undefined) storage?.removeItem(key);
      else storage?.setItem(key, text);
    } catch {
      // Full: the answers stay on the page and can be saved to a file.
    }
  };
  return {
    works: storage !== undefined,
    find: (name) => {
      const text = storage?.getItem(place(name));
      if (text === undefined || text === null) return undefined;
      try {
        const kept = answersSchema.safeParse(JSON.parse(text));
        return kept.success && kept.data.pack === pack && kept.data.check === checkOf(kept.data)
          ? kept.data
          : undefined;
      } catch {
        return undefined;
      }
    },
    keep: (name, answers) => set(place(name), JSON.stringify(withCheck(answers))),
    secondsLeft: (name) => {
      const text = storage?.getItem(`${place(name)} left`);
      const seconds = text === undefined || text === null ? NaN : Number(text);
      return Number.isFinite(seconds) && seconds >= 0 ? seconds : undefined;
    },
    keepSecondsLeft: (name, seconds) =>
      set(`${place(name)} left`, seconds === undefined ? undefined : String(seconds)),
  };
}

/** Asking may throw, and so may writing, where a browser gives a page from a disk none. */
function usable(): Storage | undefined {
  try {
    const storage = window.localStorage;
    storage.setItem("boutline seminar", "1");
    storage.removeItem("boutline seminar");
    return storage;
  } catch {
    return undefined;
  }
}
