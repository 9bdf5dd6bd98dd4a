// When each frame of a clip appears, from the tables of the MP4 file ffmpeg has just written (ISO/IEC 14496-12): starting
// another program to ask costs as much as a fifth of the cutting.

import { open, type FileHandle } from "node:fs/promises";

/** Bytes of tables a clip may have; one of an hour has less. */
const mostBytes = 64 * 1024 * 1024;

/**
 * Seconds of the frames of the first picture, in rising order; undefined where the file is put together in another way
 * than the clips written here: with frames that refer to later ones, in fragments, or cut by its list of edits. Throws as
 * reading a file does.
 */
export async function writtenFrames(file: string): Promise<Float64Array | undefined> {
  const handle = await open(file);
  try {
    const movie = await movieOf(handle);
    return movie === undefined ? undefined : timesOf(movie);
  } finally {
    await handle.close();
  }
}

/** The content of the box `moov`. */
async function movieOf(handle: FileHandle): Promise<Buffer | undefined> {
  const { size } = await handle.stat();
  const head = Buffer.alloc(16);
  for (let at = 0; at + 8 <= size;) {
    await handle.read(head, 0, 16, at);
    const short = head.readUInt32BE(0);
    const long = short === 1 ? Number(head.readBigUInt64BE(8)) : short === 0 ? size - at : short;
    const start = short === 1 ? 16 : 8;
    if (long < start || at + long > size) return undefined;
    if (head.toString("latin1", 4, 8) === "moov") {
      if (long > mostBytes) return undefined;
      const content = Buffer.alloc(long - start);
      await handle.read(content, 0, content.length, at + start);
      return content;
    }
    at += long;
  }
  return undefined;
}

function timesOf(movie: Buffer): Float64Array | undefined {
  if (boxes(movie, "mvex").length > 0) return undefined;
  for (const track of boxes(movie, "trak")) {
    const media = boxes(track, "mdia")[0];
    if (media === undefined || boxes(media, "hdlr")[0]?.toString("latin1", 8, 12) !== "vide") continue;
    const header = boxes(media, "mdhd")[0];
    const samples = boxes(boxes(media, "minf")[0], "stbl")[0];
    const durations = boxes(samples, "stts")[0];
    if (header === undefined || durations === undefined) return undefined;
    if (boxes(samples, "ctts").length > 0 || !begins(boxes(boxes(track, "edts")[0], "elst")[0]))
      return undefined;
    return summed(durations, header.readUInt32BE(header[0] === 1 ? 20 : 12));
  }
  return undefined;
}

/** Whether the list of edits shows the frames from the first on. */
function begins(edits: Buffer | undefined): boolean {
  if (edits === undefined) return true;
  const once = edits.readUInt32BE(4) === 1;
  return once && (edits[0] === 1 ? Number(edits.readBigInt64BE(16)) : edits.readInt32BE(12)) === 0;
}

function summed(durations: Buffer, ticks: number): Float64Array | undefined {
  const rows = durations.readUInt32BE(4);
  if (durations.length < 8 + 8 * rows || ticks === 0) return undefined;
  const times: number[] = [];
  let at = 0;
  for (let row = 0; row < rows; row++) {
    const [count, long] = [durations.readUInt32BE(8 + 8 * row), durations.readUInt32BE(12 + 8 * row)];
    if (times.length + count > mostBytes) return undefined;
    for (let frame = 0; frame < count; frame++) {
      times.push(at / ticks);
      at += long;
    }
  }
  return Float64Array.from(times);
}

/** Contents of the boxes of this name that lie directly in another's content. */
function boxes(content: Buffer | undefined, name: string): Buffer[] {
  const found: Buffer[] = [];
  for (let at = 0; content !== undefined && at + 8 <= content.length;) {
    const long = content.readUInt32BE(at);
    if (long < 8 || at + long > content.length) break;
    if (content.toString("latin1", at + 4, at + 8) === name) found.push(content.subarray(at + 8, at + long));
    at += long;
  }
  return found;
}
