// Decodes one frame of a recording by itself. A video element takes several times as long for it, since each of its seeks
// also sets up the sound and everything that playing on would need. Only where key frames are close together, as in a
// viewing copy: a frame can't be decoded without those between it and the key frame before.

import { CustomSource, EncodedPacketSink, Input, MP4, QTFF, type EncodedPacket } from "mediabunny";
import { ByteReader } from "./byte-reader";

/** As many frames are decoded for one at most. */
const mostFrames = 24;
/** At how many places of a recording the distance of its key frames is looked at. */
const places = 24;
/** Packets without their bytes. */
const metadata = { metadataOnly: true } as const;
/** By how much two clocks may differ and still be the same. Seconds. */
const sameTime = 0.0005;

/** One frame as it was decoded; to be closed by who gets it. */
export interface SingleFrame {
  readonly picture: VideoFrame;
  /** Presentation time as the recording counts it, in seconds. */
  readonly time: number;
}

/** What has to be decoded, in this order, for the last of them. */
interface Needed {
  readonly packets: readonly EncodedPacket[];
  readonly wanted: EncodedPacket;
}

export class SingleFrames {
  readonly #input: Input;
  readonly #packets: EncodedPacketSink;
  readonly #config: VideoDecoderConfig;
  #decoder: VideoDecoder | undefined;
  /** Presentation time of the frame waited for, in microseconds, and who waits. */
  #waiting:
    | {
        readonly time: number;
        /** Undefined where it is no longer wanted. */
        readonly came: (frame: VideoFrame | undefined) => void;
        readonly failed: (reason: unknown) => void;
      }
    | undefined;
  #closed = false;

  private constructor(input: Input, packets: EncodedPacketSink, config: VideoDecoderConfig) {
    this.#input = input;
    this.#packets = packets;
    this.#config = config;
  }

  /** `first` is the time of the first frame in seconds, as everybody else counts. Undefined where single frames can't be
   * decoded here or would take too long, so that seeking is better left to the video element. */
  static async open(from: Blob | string, first: number): Promise<SingleFrames | undefined> {
    const reader = new ByteReader(from);
    const input = new Input({
      formats: [MP4, QTFF],
      source: new CustomSource({
        getSize: () => reader.size(),
        read: (start, end) => reader.read(start, end),
        handleUnhandledError: () => undefined,
      }),
    });
    try {
      const track = await input.getPrimaryVideoTrack();
      const packets = track === null ? undefined : new EncodedPacketSink(track);
      const config = (await track?.getDecoderConfig()) ?? undefined;
      if (packets !== undefined && config !== undefined && (await track?.getRotation()) === 0) {
        const wanted = { ...config, optimizeForLatency: true };
        const isFit =
          (await VideoDecoder.isConfigSupported(wanted)).supported === true &&
          (await startsAt(packets, first)) &&
          (await areKeyFramesClose(packets));
        if (isFit) return new SingleFrames(input, packets, wanted);
      }
    } catch {
      // No file of this kind, or a browser without this decoder: the video element shows what can be shown.
    }
    input.dispose();
    return undefined;
  }

  /** The frame on screen at so many seconds of the recording. Undefined where it would take too long, or is no longer
   * wanted: another was asked for, or the recording was closed. Fails where it can't be read or decoded. */
  async at(seconds: number): Promise<SingleFrame | undefined> {
    const needed = await this.#upTo(seconds);
    if (needed === undefined) return undefined;
    const picture = await this.#decode(needed).catch((error: unknown) => {
      // The browser takes a decoder away that was not used for long.
      this.#forgetDecoder();
      if (this.#closed) throw error;
      return this.#decode(needed);
    });
    return picture === undefined ? undefined : { picture, time: needed.wanted.timestamp };
  }

  close(): void {
    if (this.#closed) return;
    this.#closed = true;
    this.#forgetDecoder();
    this.#input.dispose();
  }

  /** From the key frame to the frame wanted. */
  async #upTo(seconds: number): Promise<Needed | undefined> {
    const key = await this.#packets.getKeyPacket(seconds);
    const wanted = await this.#packets.getPacket(seconds);
    if (key === null || wanted === null || this.#closed) return undefined;
    const packets = [key];
    for (let last = key; last.sequenceNumber !== wanted.sequenceNumber;) {
      const next = packets.length < mostFrames ? await this.#packets.getNextPacket(last) : null;
      if (next === null) return undefined;
      packets.push(next);
      last = next;
    }
    return { packets, wanted };
  }

  #decode({ packets, wanted }: Needed): Promise<VideoFrame | undefined> {
    this.#waiting?.came(undefined);
    return new Promise((came, failed) => {
      this.#waiting = { time: wanted.microsecondTimestamp, came, failed };
      const decoder = this.#readyDecoder();
      for (const packet of packets) decoder.decode(packet.toEncodedVideoChunk());
      decoder.flush().then(() => {
        if (this.#waiting?.came === came) failed(new Error("the frame did not come out of the decoder"));
      }, failed);
    });
  }

  #readyDecoder(): VideoDecoder {
    if (this.#decoder?.state === "configured") return this.#decoder;
    const decoder = new VideoDecoder({
      output: (frame) => {
        const waiting = this.#waiting;
        if (waiting === undefined || Math.abs(frame.timestamp - waiting.time) > 1) {
          frame.close();
          return;
        }
        this.#waiting = undefined;
        waiting.came(frame);
      },
      error: (error) => this.#waiting?.failed(error),
    });
    decoder.configure(this.#config);
    this.#decoder = decoder;
    return decoder;
  }

  #forgetDecoder(): void {
    this.#waiting?.came(undefined);
    this.#waiting = undefined;
    if (this.#decoder !== undefined && this.#decoder.state !== "closed") this.#decoder.close();
    this.#decoder = undefined;
  }
}

/** Times mean the same frames only where both count from the same start. */
async function startsAt(packets: EncodedPacketSink, first: number): Promise<boolean> {
  const packet = await packets.getFirstPacket(metadata);
  return packet !== null && Math.abs(packet.timestamp - first) < sameTime;
}

/** Whether single frames are decoded without going through many others, as far as some places tell. */
async function areKeyFramesClose(packets: EncodedPacketSink): Promise<boolean> {
  const last = await packets.getPacket(Infinity, metadata);
  if (last === null) return false;
  for (let place = 0; place < places; place += 1) {
    const key = await packets.getKeyPacket((last.timestamp * place) / places, metadata);
    if (key === null || !(await isFollowedSoon(packets, key))) return false;
  }
  return true;
}

/** Whether another key frame, or the end, comes before too many frames. */
async function isFollowedSoon(packets: EncodedPacketSink, key: EncodedPacket): Promise<boolean> {
  let next = await packets.getNextPacket(key, metadata);
  for (let passed = 1; passed < mostFrames && next !== null; passed += 1) {
    if (next.type === "key") return true;
    next = await packets.getNextPacket(next, metadata);
  }
  return next === null || next.type === "key";
}
