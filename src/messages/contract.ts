// What viewer and host say to each other. Both ends check what they get; the text is the truth, so a viewer that
// missed something asks for the whole scene again.

import * as z from "zod";
import { cutting, pickedSchema, pickParts, previewSchema } from "./picks";
import { sceneSchema } from "./scene";

const pair = z.tuple([z.number(), z.number()]);

/** A recording the viewer can play. Addresses are of the loopback media server. */
export const sourceSchema = z.object({
  file: z.string(),
  /** Address of the recording; null where it can't be played, and `problem` says why and what to do. */
  address: z.string().nullable(),
  /** Address of its presentation times (Float64, little endian, seconds, first frame 0); null while unknown. */
  frames: z.string().nullable(),
  /** Address of its sound's levels (a byte for each hundredth of a second from the first frame on); null while unknown. */
  sound: z.string().nullable(),
  /** Seconds to add to this recording's time to get time in the first one. */
  offset: z.number(),
  problem: z.string(),
  /** How its viewing copy is doing, in words, for the transport row: "viewing copy: 40 %, 3 minutes left". */
  state: z.string(),
  /** No viewing copy is on its way: what plays now stays. */
  settled: z.boolean(),
});
export type Source = z.output<typeof sourceSchema>;

/** What a transport key does in the viewer. */
export const transportActions = [
  "play",
  "frame back",
  "frame forward",
  "second back",
  "second forward",
  "previous entry",
  "next entry",
  "next waiting",
  "pick this",
  "previous picked",
  "next picked",
  "play picked",
  "slower",
  "faster",
  "again",
  "beginning earlier",
  "beginning later",
  "end earlier",
  "end later",
  "zoom in",
  "zoom out",
  "whole picture",
  "go to time",
  "next recording",
  "place fit",
  "place platforms",
  "nudge left",
  "nudge right",
  "nudge up",
  "nudge down",
  "keep points",
  "take back point",
  "leave placing",
] as const;
export type TransportAction = (typeof transportActions)[number];

/** To the viewer. */
export const toViewer = z.discriminatedUnion("type", [
  sceneSchema,
  z.object({ type: z.literal("sources"), sources: z.array(sourceSchema) }),
  /** Asks which frame is on screen; answered by `stamp`. Every `key` sent before the answer belongs to an earlier press. */
  z.object({ type: z.literal("which frame"), request: z.number() }),
  z.object({ type: z.literal("transport"), action: z.enum(transportActions) }),
  /** Takes the picture to a time, in milliseconds. */
  z.object({ type: z.literal("show"), at: z.number() }),
  /** Plays stretches one after another; `title` says what they are the evidence of. With a `run` the page tells by `played`
   * how it ended. No stretches: stops. */
  z.object({
    type: z.literal("play"),
    title: z.string(),
    stretches: z.array(z.object({ from: z.number(), to: z.number() })),
    run: z.number().optional(),
  }),
  /** The editor made this command of the key at this position. */
  z.object({ type: z.literal("returned"), command: z.string(), code: z.string() }),
  /** Puts the cursor into a field of the detail strip, for the entry at this place in the log. */
  z.object({ type: z.literal("write"), index: z.number(), field: z.string() }),
  /** A line under the call sentence. */
  z.object({ type: z.literal("say"), severity: z.enum(["error", "note"]), message: z.string() }),
  pickedSchema,
  previewSchema,
  /** Local letters and names of keys by command, as bound now. */
  z.object({ type: z.literal("keys"), keys: z.record(z.string(), z.string()) }),
]);
export type ToViewer = z.output<typeof toViewer>;

const stamp = z.object({
  /** Presentation time of the frame on screen, in milliseconds, rounded to the nearest. */
  at: z.number().min(0),
  /** Milliseconds one frame lasts there. */
  frame: z.number().positive(),
});
export type Stamp = z.output<typeof stamp>;

/** To the host. `version` is the document version the viewer shows. */
export const toHost = z.discriminatedUnion("type", [
  z.object({ type: z.literal("ready") }),
  /** Asks for the whole scene: the viewer lost track. */
  z.object({ type: z.literal("whole scene") }),
  z.object({ type: z.literal("focus"), focused: z.boolean() }),
  z.object({ type: z.literal("placing"), placing: z.boolean() }),
  z.object({ type: z.literal("playhead"), at: z.number(), playing: z.boolean() }),
  z.object({ type: z.literal("stamp"), request: z.number(), stamp }),
  /** The key at this position went down while this frame was on screen. The command it stands for comes later, by way
   * of the editor's keybindings. */
  z.object({ type: z.literal("key"), code: z.string(), stamp }),
  /** A button was pressed, or a key of which the page knows what the editor makes of it: run this command. */
  z.object({ type: z.literal("command"), command: z.string(), stamp }),
  /** A field of the detail strip was changed; null takes the field away. Text stays text. */
  z.object({
    type: z.literal("field"),
    version: z.number(),
    index: z.number(),
    field: z.string(),
    value: z.union([z.string(), z.number(), z.boolean(), z.null(), z.array(z.string()), pair]),
  }),
  /** Points were placed in the picture at this frame. */
  z.object({
    type: z.literal("fit"),
    stamp,
    points: z.array(z.object({ image: pair, floor: pair })),
  }),
  z.object({
    type: z.literal("platforms"),
    stamp,
    left: z.tuple([pair, pair]).nullable(),
    right: z.tuple([pair, pair]).nullable(),
  }),
  /** Picks the phrases that fit; no parts: none. */
  z.object({ type: z.literal("pick"), pick: pickParts }),
  /** Picks the phrase at this place of the log by hand, or leaves it out. */
  z.object({ type: z.literal("pick by hand"), version: z.number(), index: z.number() }),
  /** Asks what would be cut, or cuts it: each phrase a clip, or all in one reel. */
  z.object({
    type: z.literal("clips"),
    do: z.enum(["preview", "preview reel", "cut", "reel"]),
    cutting,
  }),
  /** Opens the text at a place (from 1). */
  z.object({ type: z.literal("open text"), line: z.number(), column: z.number() }),
  /** How the `run` of stretches ended: all played, left by the user, or with no picture to play. */
  z.object({ type: z.literal("played"), run: z.number(), how: z.enum(["all", "left", "no picture"]) }),
  /** A recording was tried: whether its picture shows, and whether any sound of it was decoded. */
  z.object({ type: z.literal("tried"), file: z.string(), picture: z.boolean(), sound: z.boolean() }),
]);
export type ToHost = z.output<typeof toHost>;
