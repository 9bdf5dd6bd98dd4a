// A recording fetched once is played from memory, where a seek takes a third of the time it takes over the loopback
// server (measured: 20 ms against 60, the median from the seek to the frame). The browser keeps what is large on its disk.

/** A longer one is played from its address. Bytes. */
const mostEver = 1e9;
/** Up to here it is fetched before anything is shown. Bytes. */
const mostFirst = 64 * 1024 * 1024;
/** The picture isn't kept waiting longer than this. Milliseconds. */
const patience = 1200;
/** A slow way to this machine is better left to the picture. Milliseconds. */
const patienceBehind = 180_000;

/** A short recording; undefined where it is too long or comes too slowly. */
export function inMemoryAtOnce(address: string): Promise<Blob | undefined> {
  return fetched(address, mostFirst, patience, new AbortController());
}

/** The same for longer ones, behind the picture that plays meanwhile. */
export function inMemory(address: string, stop: AbortController): Promise<Blob | undefined> {
  return fetched(address, mostEver, patienceBehind, stop);
}

async function fetched(
  address: string,
  most: number,
  milliseconds: number,
  stop: AbortController,
): Promise<Blob | undefined> {
  const timer = setTimeout(() => {
    stop.abort();
  }, milliseconds);
  const { signal } = stop;
  try {
    const head = await fetch(address, { method: "HEAD", signal });
    const length = Number(head.headers.get("Content-Length") ?? Infinity);
    if (!head.ok || !(length > 0 && length <= most)) return undefined;
    const whole = await fetch(address, { signal });
    if (!whole.ok) return undefined;
    const blob = await whole.blob();
    return blob.size === length ? blob : undefined;
  } catch {
    // Given up, or refused: the address itself still plays.
    return undefined;
  } finally {
    clearTimeout(timer);
  }
}
