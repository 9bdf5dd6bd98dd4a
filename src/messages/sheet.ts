// What the panel with the study sheet and the host say to each other. The page is made by the host from the text; the
// panel shows it and asks for the phrases behind a figure. The page of two bouts speaks the same way.

import * as z from "zod";

/** To the panel. */
export const toSheet = z.discriminatedUnion("type", [
  /** The page of this document version, as HTML. It takes the place of the one before. `files` are the addresses of the
   * one document or two, kept by the page for the next start of the editor. */
  z.object({ type: z.literal("page"), version: z.number(), html: z.string(), files: z.array(z.string()) }),
  /** The figure asked for was of an older version: ask again for the one of this name, now that the page is new. */
  z.object({ type: z.literal("again"), key: z.string() }),
  /** A line for the reader: what is being played, or why nothing is. */
  z.object({ type: z.literal("say"), message: z.string() }),
]);
export type ToSheet = z.output<typeof toSheet>;

/** What the page keeps while it is hidden, and for the next start of the editor. */
export const keptSheet = z.object({ files: z.array(z.string()), open: z.array(z.string()).optional() });
export type KeptSheet = z.output<typeof keptSheet>;

/** To the host. */
export const fromSheet = z.discriminatedUnion("type", [
  /** Asks for the page: the panel was opened, or shown again. `open` names the sections the reader has unfolded; left
   * out where the reader has not said anything yet. */
  z.object({ type: z.literal("ready"), open: z.array(z.string()).optional() }),
  /** The reader has folded or unfolded a section: those now unfolded. */
  z.object({ type: z.literal("sections"), open: z.array(z.string()) }),
  /** Asks what the figures of a section mean. */
  z.object({ type: z.literal("meaning"), section: z.string() }),
  /** Asks for a place in the text, both from 1. */
  z.object({ type: z.literal("line"), line: z.int().min(1), column: z.int().min(1) }),
  /** Asks to save the sheet as a file of its own. */
  z.object({ type: z.literal("save") }),
  /** Asks to play the phrases behind a figure: entries of the log as of `version`. `key` names the figure. */
  z.object({
    type: z.literal("evidence"),
    key: z.string(),
    title: z.string(),
    entries: z.array(z.int().min(0)),
    /** Which of two bouts, on a page of two. */
    of: z.enum(["first", "second"]).optional(),
    version: z.number(),
  }),
]);
export type FromSheet = z.output<typeof fromSheet>;
