/** Pixels of a sample. */
export const width: number;
export const height: number;

export interface Kind {
  /** Frames a second, as ffmpeg reads it. */
  readonly rate: string;
  readonly seconds: number;
  readonly sound: boolean;
  readonly options: readonly string[];
  readonly before?: readonly string[];
  readonly then?: readonly string[];
  /** Number in the first frame shown; 0 unless said. */
  readonly firstNumber?: number;
}

/** How each kind of sample is made, by the name of its file. */
export const kinds: Readonly<Record<string, Kind>>;

/** Input options of ffmpeg for a moving picture with its frame's number in it. */
export function numberedPicture(rate: string, seconds: number): string[];

/** The same for silence, with a tone of 1 kHz from the second `from` on for `long` seconds. */
export function beep(seconds: number, from: number, long?: number): string[];

/** Makes a sample in a folder, `as` another name if given; resolves to its full path. */
export function makeSample(folder: string, kind: string, as?: string): Promise<string>;

/** Times of the frames as ffmpeg decodes them, in seconds of the file's clock. */
export function decodedTimes(file: string): number[];

/** The number in each frame as ffmpeg decodes it, null where it can't be read; `filter` turns a turned picture back. */
export function frameNumbers(file: string, filter?: string): (number | null)[];
