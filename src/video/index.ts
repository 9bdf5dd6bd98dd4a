// What a recording holds and how it is made quick to watch, by ffprobe and ffmpeg: can it be played, when does each of its
// frames appear, a viewing copy, the loudness of its sound.

export { Copies, type Asking, type CopiesOptions } from "./copies";
export type { Bulk } from "./copy-folder";
export type { CopyProgress } from "./copy-progress";
export { type FrameIndex, frameTable } from "./frame-index";
export { type PeakOptions, type Peaks, soundPeaks } from "./peaks";
export { defaultCopiesFolder, defaultTablesFolder } from "./places";
export { type Probe, probe } from "./probe";
export type { MakeOptions, VideoOptions, VideoProblem } from "./problem";
export { findProgram, type Program } from "./programs";
export { type CopyKind, whichCopy } from "./recipe";
export type { ViewingCopy } from "./shared-copy";
