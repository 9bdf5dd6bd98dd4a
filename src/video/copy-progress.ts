// How far a copy is and how long it will take, from the time mark ffmpeg has reached.

export interface CopyProgress {
  /** Share of it that is done, 0-1. */
  readonly share: number;
  /** Null until it can be told. */
  readonly secondsLeft: number | null;
  /** elsewhere: made by another editor or machine, which shares the folder. checking: its frame times are read. */
  readonly state: "waiting" | "elsewhere" | "working" | "checking";
}

/** Too early to tell how long the rest takes, in milliseconds. */
const tooEarly = 1000;

/** Progress of work of so many seconds of recording, each time it has come further; undefined where it has not. */
export function progressOf(
  length: number,
  clock: () => number = () => performance.now(),
): (reached: number) => CopyProgress | undefined {
  const start = clock();
  let farthest = 0;
  return (reached) => {
    if (reached <= farthest) return undefined;
    farthest = reached;
    const share = length > 0 ? Math.min(1, reached / length) : 1;
    const spent = clock() - start;
    const secondsLeft = spent < tooEarly ? null : ((spent / 1000) * (1 - share)) / share;
    return { share, secondsLeft, state: "working" };
  };
}
