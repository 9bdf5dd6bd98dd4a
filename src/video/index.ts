// What a recording holds, by ffprobe: can it be played, and when does each of its frames appear?

export { findProgram, type Program } from "./programs";
export { type FrameIndex, frameTable } from "./frame-index";
export { type Probe, probe } from "./probe";
export type { VideoOptions, VideoProblem } from "./problem";
