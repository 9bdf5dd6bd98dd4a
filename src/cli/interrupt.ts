// Ctrl-C, a closed terminal or a request to end, for verbs that work for long.

import type { Status } from "./verb";

/** Aborts the work's signal; when the work is gone, and `end` has cleared up, the process ends as it was asked to. */
export async function untilInterrupted(
  work: (signal: AbortSignal) => Promise<Status>,
  end?: () => Promise<void>,
): Promise<Status> {
  const stop = new AbortController();
  let asked: NodeJS.Signals | undefined;
  const interrupt = (name: NodeJS.Signals) => {
    asked ??= name;
    stop.abort();
  };
  const names = ["SIGINT", "SIGTERM", "SIGHUP"] as const;
  for (const name of names) process.once(name, interrupt);
  try {
    return await work(stop.signal);
  } finally {
    await end?.();
    for (const name of names) process.removeListener(name, interrupt);
    if (asked !== undefined) process.kill(process.pid, asked);
  }
}
