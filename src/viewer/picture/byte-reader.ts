// Reads parts of a recording, from memory or by its address. The frames up to the next key frame lie one after another,
// so each read brings some of what follows: going on to the next frames then takes no read at all.

/** How much is read at least. Bytes. */
const atLeast = 128 * 1024;
/** How many parts are kept. */
const kept = 16;

interface Part {
  readonly start: number;
  readonly bytes: Uint8Array;
}

export class ByteReader {
  readonly #from: Blob | string;
  #size: number | undefined;
  /** The one read last comes first. */
  #parts: readonly Part[] = [];

  constructor(from: Blob | string) {
    this.#from = from;
  }

  /** Bytes of the whole. Fails where the address gives none. */
  async size(): Promise<number> {
    this.#size ??= typeof this.#from === "string" ? await lengthAt(this.#from) : this.#from.size;
    return this.#size;
  }

  /** The bytes from `start` up to `end`. Fails where they can't be had. */
  async read(start: number, end: number): Promise<Uint8Array> {
    const part =
      this.#parts.find((one) => start >= one.start && end <= one.start + one.bytes.length) ??
      (await this.#fetch(start, Math.min(await this.size(), Math.max(end, start + atLeast))));
    return part.bytes.subarray(start - part.start, end - part.start);
  }

  async #fetch(start: number, end: number): Promise<Part> {
    const part = { start, bytes: await bytesOf(this.#from, start, end) };
    this.#parts = [part, ...this.#parts.slice(0, kept - 1)];
    return part;
  }
}

async function bytesOf(from: Blob | string, start: number, end: number): Promise<Uint8Array> {
  if (typeof from !== "string") return new Uint8Array(await from.slice(start, end).arrayBuffer());
  const reply = await fetch(from, { headers: { Range: `bytes=${start}-${end - 1}` } });
  if (reply.status !== 206) throw new Error(`no part of the recording: ${reply.status}`);
  const bytes = new Uint8Array(await reply.arrayBuffer());
  if (bytes.length !== end - start) throw new Error("less of the recording than asked for");
  return bytes;
}

async function lengthAt(address: string): Promise<number> {
  const head = await fetch(address, { method: "HEAD" });
  const length = Number(head.headers.get("Content-Length") ?? NaN);
  if (!head.ok || !(length > 0)) throw new Error(`no length of the recording: ${head.status}`);
  return length;
}
