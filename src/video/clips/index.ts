// Training clips: phrases cut out of recordings, exact to the frame, and a reel of several.

export { cutClips, cutReel, manifestName, type CutOptions } from "./cut";
export {
  phraseClips,
  usualWishes,
  type ClipEvidence,
  type ClipWishes,
  type PickedBout,
} from "./phrase-clips";
export { readManifest, type ToldClip, type ToldClips } from "./read-manifest";
export { changedSince, signsOfChange } from "./same-recording";
export type { Box, Caption, ClipPlan, ClipsManifest, ClipsProgress, CutClip, SlowRepeat } from "./plan";
