// What viewer and host say to each other about picked phrases and the clips cut from them. The pick itself is checked
// by the host, which knows its parts; here it is only JSON.

import * as z from "zod";
import { jsonSchema } from "./scene";

/** Parts of a pick by name; empty: nothing is picked. */
export const pickParts = z.record(z.string(), jsonSchema);
export type PickParts = z.output<typeof pickParts>;

/** How clips are cut. */
export const cutting = z.object({
  /** Seconds shown before the command to fence, from 0 to 60. */
  leadIn: z.number().min(0).max(60),
  /** Seconds shown after the halt, from 0 to 60. */
  tail: z.number().min(0).max(60),
  /** The last second before the halt again, slowly. */
  slowRepeat: z.boolean(),
  /** The call as captions in a file beside the clip. */
  captions: z.boolean(),
  /** The call written into the picture. */
  burnIn: z.boolean(),
});
export type Cutting = z.output<typeof cutting>;

/** From "On guard": about two seconds before "Ready" and "Fence" (common practice, no source). */
export const usualCutting: Cutting = {
  leadIn: 3,
  tail: 2,
  slowRepeat: false,
  captions: true,
  burnIn: false,
};

/** The phrases picked in one version of the bout. */
export const pickedSchema = z.object({
  type: z.literal("picked"),
  version: z.number(),
  pick: pickParts,
  /** Name under which it was saved; empty where it was not, or was changed since. */
  saved: z.string(),
  /** The pick told in words; empty where nothing is picked. */
  words: z.string(),
  /** Picked phrases as places in the log, in its order. */
  entries: z.array(z.number()),
  /** Hand picks whose phrase is no longer there, each told in words. */
  lost: z.array(z.string()),
  /** Shows the panel. */
  open: z.boolean(),
});
export type Picked = z.output<typeof pickedSchema>;

/** What would be cut. Times in milliseconds of the bout. */
export const previewSchema = z.object({
  type: z.literal("clips"),
  clips: z.array(
    z.object({ name: z.string(), says: z.string(), from: z.number(), to: z.number(), warning: z.string() }),
  ),
  /** Length of all clips, slow repeats included, in milliseconds. */
  length: z.number(),
  /** What holds of all of them, or why nothing can be cut; one line each. */
  notes: z.array(z.string()),
  /** One file of them all, in the place of a clip each. */
  reel: z.boolean(),
  /** Whether anything can be cut. */
  possible: z.boolean(),
});
export type Preview = z.output<typeof previewSchema>;
