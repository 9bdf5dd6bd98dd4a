// `boutline prepare`: viewing copies made ahead, for many recordings, by several machines on one folder.

import path from "node:path";
import { readBout } from "../bout/read";
import { failure, type Result, success } from "../bout/result";
import {
  Copies,
  defaultCopiesFolder,
  defaultTablesFolder,
  probe,
  type VideoProblem,
  whichCopy,
} from "../video/index";
import { readText } from "../shelf/text";
import { plain } from "./lines";
import { ProgressLines } from "./progress-lines";
import { recordingBeside } from "./recording";
import { untilInterrupted } from "./interrupt";
import { numberOf, Unusable, wordsOf, type Status, type Streams, type Verb } from "./verb";

const help = `boutline prepare FILE... [OPTIONS]

Makes viewing copies ahead: of recordings, or of those that bout files name.
A copy jumps quickly to any frame and plays in every VS Code. A recording that
plays and jumps quickly by itself needs none.

  --json            one line for each recording, { prepare, file, copy, frames, made },
                    for other programs; copy is null where none is needed
  --dir DIR         where copies are kept; a folder shared by several machines will do.
                    Without it the user's cache folder, where the editor looks too
  --height N        most lines of the picture (540)
  --jobs N          copies made at a time, 1 or 2 (2)
  --most N          gigabytes of copies kept in the folder (20); those not used for longest go first
  --ffmpeg PATH     the ffmpeg to use, and
  --ffprobe PATH    the ffprobe; without them those on the PATH

Progress is shown on the error stream. Ctrl-C leaves nothing half-made.
`;

interface Prepared {
  readonly file: string;
  readonly copy: string | null;
  readonly frames: number;
  readonly made: boolean;
  /** Frames that could not be decoded. */
  readonly missing: number;
}

export const prepare: Verb = {
  help,
  run: async (words, streams) => {
    const { values, positionals } = wordsOf(words, {
      ...{ json: { type: "boolean" }, dir: { type: "string" }, height: { type: "string" } },
      ...{ jobs: { type: "string" }, most: { type: "string" } },
      ...{ ffmpeg: { type: "string" }, ffprobe: { type: "string" } },
    } as const);
    if (positionals.length === 0) throw new Unusable("name at least one recording or bout file");
    const folder = values.dir === undefined ? defaultCopiesFolder() : path.resolve(values.dir);
    const programs = {
      cacheDir: defaultTablesFolder(),
      ffmpegPath: values.ffmpeg === undefined ? undefined : path.resolve(values.ffmpeg),
      ffprobePath: values.ffprobe === undefined ? undefined : path.resolve(values.ffprobe),
    };
    const copies = new Copies({
      ...programs,
      folder,
      lines: numberOf("height", values.height, { least: 16, most: 4320, whole: true }) ?? 540,
      atOnce: numberOf("jobs", values.jobs, { least: 1, most: 2, whole: true }) ?? 2,
      mostBytes: 1e9 * (numberOf("most", values.most, { least: 1, most: 1e6, whole: true }) ?? 20),
    });
    const recordings = await recordingsOf(positionals);
    if (!recordings.ok) {
      for (const line of recordings.problem) streams.errors(plain(`boutline prepare: ${line}`) + "\n");
      return 2;
    }
    return untilInterrupted(
      (signal) => prepareAll(recordings.value, copies, programs, streams, values.json === true, signal),
      () => copies.end(),
    );
  },
};

async function prepareAll(
  files: readonly string[],
  copies: Copies,
  programs: { readonly cacheDir: string; readonly ffprobePath: string | undefined },
  { out, errors }: Streams,
  json: boolean,
  signal: AbortSignal,
): Promise<Status> {
  const complain = (message: string) => errors(plain(`boutline prepare: ${message}`) + "\n");
  // First whether all can be used: a wrong name shows at once, not after a night's work.
  const needs: {
    readonly file: string;
    readonly kind: ReturnType<typeof whichCopy>;
    readonly frames: number;
  }[] = [];
  let unusable = false;
  for (const file of files) {
    const told = await probe(path.resolve(file), { ...programs, signal });
    if (told.ok) needs.push({ file, kind: whichCopy(told.value), frames: told.value.frames });
    else complain(told.problem.message);
    unusable ||= !told.ok;
    if (signal.aborted) break;
  }
  if (unusable) return 2;
  const progress = new ProgressLines(files.length, errors, process.stderr);
  const results = await Promise.all(
    needs.map(async ({ file, kind, frames }): Promise<Result<Prepared, VideoProblem>> => {
      if (kind === "none") {
        progress.done(file);
        return success({ file, copy: null, frames, made: false, missing: 0 });
      }
      const copy = await copies.make(path.resolve(file), kind, {
        signal,
        progress: (now) => progress.show(file, now),
      });
      progress.done(file);
      if (!copy.ok) return copy;
      const { file: place, index, made, missing } = copy.value;
      return success({ file, copy: place, frames: index.times.length, made, missing });
    }),
  );
  progress.end();
  let status: Status = 0;
  for (const result of results) {
    if (!result.ok) complain(result.problem.message);
    else if (result.value.missing > 0)
      complain(`${result.value.missing} frames of ${result.value.file} could not be decoded.`);
    if (!result.ok || result.value.missing > 0) status = 1;
  }
  for (const result of results) {
    if (!result.ok) continue;
    const { file, copy, frames, made } = result.value;
    if (json) out(JSON.stringify({ prepare: 1, file, copy, frames, made }) + "\n");
    else out(plain(`${file}: ${sentenceOf(result.value)}`) + "\n");
  }
  return status;
}

function sentenceOf({ copy, frames, made }: Prepared): string {
  if (copy === null) return "needs no copy";
  return `${made ? "copied to" : "was copied before, to"} ${copy}, ${frames} frames`;
}

/** The recordings themselves, and those of bout files, as paths from here; the failure is lines of what can't be used. */
async function recordingsOf(words: readonly string[]): Promise<Result<readonly string[], readonly string[]>> {
  const files = new Set<string>();
  const problems: string[] = [];
  for (const word of words) {
    if (!word.endsWith(".json")) {
      files.add(word);
      continue;
    }
    const text = await readText(word);
    if (!text.ok) {
      problems.push(`${word}: ${text.problem}`);
      continue;
    }
    const { bout } = readBout(text.value);
    if (bout === undefined) problems.push(`${word} can't be read as a bout file`);
    for (const { file } of bout?.recordings ?? []) {
      const recording = recordingBeside(word, file);
      if (recording.ok) files.add(recording.value);
      else problems.push(`${word}: ${recording.problem}`);
    }
  }
  return problems.length > 0 ? failure(problems) : success([...files]);
}
