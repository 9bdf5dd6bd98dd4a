// How loud the recording on screen is: fetched from the host, which sends it as it works it out.

/** One byte for each hundredth of a second, from the recording's first frame on, as far as known: 0 to 255. */
export interface SoundLevels {
  readonly levels: Uint8Array;
  /** The loudest of them, at least 1. */
  readonly loudest: number;
  /** Milliseconds to add to this recording's time to get time in the first one. */
  readonly offset: number;
}

export const levelsPerSecond = 100;

/** Calls `heard` with all that is known whenever more has come; with undefined where there is no sound to draw. */
export async function fetchLevels(
  address: string,
  offset: number,
  signal: AbortSignal,
  heard: (levels: SoundLevels | undefined) => void,
): Promise<void> {
  let levels = new Uint8Array(0);
  let length = 0;
  let loudest = 1;
  try {
    const reply = await fetch(address, { signal });
    const reader = reply.ok ? reply.body?.getReader() : undefined;
    for (;;) {
      const part = await reader?.read();
      if (part?.value === undefined) break;
      if (length + part.value.length > levels.length) {
        const larger = new Uint8Array(Math.max(60_000, 2 * (length + part.value.length)));
        larger.set(levels);
        levels = larger;
      }
      levels.set(part.value, length);
      length += part.value.length;
      for (const level of part.value) if (level > loudest) loudest = level;
      if (!signal.aborted) heard({ levels: levels.subarray(0, length), loudest, offset });
    }
  } catch {
    // What has come so far stays: it is drawn for the eye only.
  }
  if (length === 0 && !signal.aborted) heard(undefined);
}
