// What is to be cut out of recordings, and what is told afterwards so that the same clips can be made again.

/** Fractions of the upright picture's width and height, from its top left corner. */
export interface Box {
  readonly x: number;
  readonly y: number;
  readonly width: number;
  readonly height: number;
}

/** A stretch shown once more at the end, slowed down, without sound. Seconds of the recording's frame table. */
export interface SlowRepeat {
  readonly from: number;
  readonly to: number;
  /** 0.5: half as fast. */
  readonly speed: number;
}

/** One clip. All times are seconds from the recording's first frame; the frames nearest to them are meant. */
export interface ClipPlan {
  /** Full path of the recording. */
  readonly source: string;
  /** The first frame, and the last one that is still in it. */
  readonly from: number;
  readonly to: number;
  /** Of the clip without folder and ending: letters, digits, `-`, `_` and `.`. */
  readonly name: string;
  /** From this frame on the picture stands still, as long as the clip lasts. */
  readonly freezeAt?: number | undefined;
  /** No sound from here on; left out, from `freezeAt`. */
  readonly muteFrom?: number | undefined;
  /** Filled black throughout. */
  readonly boxes?: readonly Box[] | undefined;
  readonly slowRepeat?: SlowRepeat | undefined;
  /** Written into the picture. */
  readonly burnIn?: string | undefined;
  /** Written beside the clip as WebVTT. */
  readonly captions?: readonly Caption[] | undefined;
  /** What the plan's maker wants told in the manifest: bout file, hash, phrase. */
  readonly evidence?: unknown;
}

/** Seconds of the recording's frame table. */
export interface Caption {
  readonly from: number;
  readonly to: number;
  readonly text: string;
}

export interface CutClip {
  /** Name of the file beside the manifest. */
  readonly file: string;
  readonly captions: string | null;
  /** What stands in the captions, at seconds of the recording. */
  readonly cues: readonly Caption[] | null;
  /** Of the recording: its name, and what it is whatever its name (see fingerprint.ts). */
  readonly source: string;
  readonly fingerprint: string;
  /** Numbers of the first and the last frame in the recording, from 0, and their times. */
  readonly frames: { readonly from: number; readonly to: number };
  readonly seconds: { readonly from: number; readonly to: number };
  /** Of the clip, in seconds. */
  readonly duration: number;
  /** copied: the recording's own pictures, taken over as they are. */
  readonly way: "copied" | "encoded";
  readonly options: Pick<ClipPlan, "freezeAt" | "muteFrom" | "boxes" | "slowRepeat" | "burnIn">;
  readonly evidence: unknown;
}

export interface ClipsManifest {
  readonly clips: 1;
  /** With the same version the same clips come out, picture by picture. */
  readonly ffmpeg: string;
  readonly made: readonly CutClip[];
}

export interface ClipsProgress {
  /** Clips that are done, of how many. */
  readonly done: number;
  readonly of: number;
}
