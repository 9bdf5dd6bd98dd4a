// A manifest read back, so that its clips can be made again. Whoever sent it may have written anything into it: it names
// no folder, and nothing in it is a path.

import path from "node:path";
import * as z from "zod";
import { explain } from "../../bout/explain";
import { failure, type Result, success } from "../../bout/result";
import type { ClipPlan } from "./plan";
import { nameProblem } from "./read-plan";

const seconds = z.number().min(0);
const text = z.string().max(2000);
const share = z.number().min(0).max(1);

const clipSchema = z.object({
  file: z.string(),
  captions: z.string().nullable(),
  cues: z
    .array(z.object({ from: seconds, to: seconds, text }))
    .max(100)
    .nullable(),
  source: z.string().refine(isBareName, { error: "a recording is named without its folder" }),
  fingerprint: z
    .string()
    .regex(/^[0-9a-f]{32}$/, { error: "a fingerprint is 32 digits and letters from a to f" }),
  frames: z.object({ from: z.int().min(0), to: z.int().min(0) }),
  seconds: z.object({ from: seconds, to: seconds }),
  options: z.object({
    freezeAt: seconds.optional(),
    muteFrom: seconds.optional(),
    boxes: z
      .array(z.object({ x: share, y: share, width: share, height: share }))
      .max(100)
      .optional(),
    slowRepeat: z.object({ from: seconds, to: seconds, speed: z.number() }).optional(),
    burnIn: text.optional(),
  }),
  evidence: z.unknown(),
});

const manifestSchema = z.object({
  clips: z.literal(1),
  ffmpeg: z.string().max(200),
  made: z.array(clipSchema).min(1).max(10_000),
});

/** A clip of a manifest: what to cut, once it is known where the recording lies. */
export interface ToldClip {
  readonly plan: Omit<ClipPlan, "source">;
  /** Name of the recording, without a folder, and what it was. */
  readonly source: string;
  readonly fingerprint: string;
}

export interface ToldClips {
  /** Version of the ffmpeg they were made with. */
  readonly ffmpeg: string;
  readonly clips: readonly ToldClip[];
}

/** The failure says what is wrong, for a person. */
export function readManifest(written: string): Result<ToldClips, string> {
  let value: unknown;
  try {
    value = JSON.parse(written.replace(/^\uFEFF/, ""));
  } catch {
    return failure("this is no JSON");
  }
  const read = manifestSchema.safeParse(value);
  if (!read.success) {
    const [issue] = read.error.issues;
    if (issue === undefined) return failure("this is no manifest of clips");
    const where = issue.path.length === 0 ? "" : `${issue.path.map(String).join(".")}: `;
    return failure(`${where}${explain(issue, value)}`);
  }
  const { ffmpeg, made } = read.data;
  const clips: ToldClip[] = [];
  for (const { file, captions, cues, source, fingerprint, seconds, options, evidence } of made) {
    const name = file.replace(/\.mp4$/, "");
    const wrong = nameProblem([name]);
    if (wrong !== undefined || name === file) return failure(`"${file}" can't be the name of a clip`);
    if (captions !== null && captions !== `${name}.vtt`)
      return failure(`"${captions}" can't be the name of the captions of ${file}`);
    clips.push({
      ...{ source, fingerprint },
      plan: {
        name,
        ...seconds,
        ...options,
        captions: captions === null ? undefined : (cues ?? []),
        evidence,
      },
    });
  }
  const twice = nameProblem(clips.map(({ plan }) => plan.name));
  return twice === undefined ? success({ ffmpeg, clips }) : failure(withoutStop(twice.message));
}

/** Neither system's way of writing a path is in it. */
function isBareName(name: string): boolean {
  return (
    name !== "" &&
    name.length <= 255 &&
    name !== "." &&
    name !== ".." &&
    !/[\u0000-\u001f/\\]/.test(name) &&
    path.win32.basename(name) === name
  );
}

function withoutStop(message: string): string {
  return message.replace(/\.$/, "");
}
