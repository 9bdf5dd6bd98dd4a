// `boutline clips`: picked phrases cut out of their recordings, with a manifest, and a reel of them.

import { createHash } from "node:crypto";
import { existsSync } from "node:fs";
import path from "node:path";
import { frameTable, defaultTablesFolder, type MakeOptions } from "../video/index";
import { pickedPhrases, pickInWords, type Pick } from "../figures";
import {
  cutClips,
  cutReel,
  manifestName,
  phraseClips,
  usualWishes,
  type ClipPlan,
  type ClipWishes,
} from "../video/clips";
import { readText } from "../shelf/text";
import { plain, table } from "./lines";
import { pickOptions, pickOf, savedPick } from "./pick-options";
import { recordingBeside } from "./recording";
import { studyOfFile } from "../shelf/study";
import { untilInterrupted } from "./interrupt";
import { numberOf, Unusable, wordsOf, type Status, type Streams, type Verb } from "./verb";

const help = `boutline clips FILE... --out DIR [OPTIONS]

Cuts picked phrases of bout files out of their recordings, exact to the frame, each
from before the command to fence, so that an early start can be judged, to after the halt.
${manifestName} beside the clips says where each came from.

Which phrases (every phrase without any; parts narrow each other, a list widens one):
  --pick NAME           a pick saved beside the bout file, in NAME.picks.json
  --fencer NAME         of this fencer, by id or name; then "own" and "opponent" may be said
  --actions LIST        "riposte,left attack,own remise"      --families LIST
  --scored LIST         the action that scored                --scored-families LIST
  --opener LIST         left, right, both, nobody, untagged, own, opponent
  --award LIST          what stands: left, right, both, none, waiting, own, opponent
  --both-lamps          a valid lamp on both sides
  --review LIST         any, none, changed, kept, decided, no picture     --review-by LIST
  --card LIST           a card after the phrase: any or colours           --card-to LIST
  --stop LIST           a stop after it: any or reasons
  --periods LIST  --targets LIST  --tags LIST  --numbers "3,7-12"  --star  --unsure

How they are cut:
  --lead S, --tail S    seconds before the command to fence (${usualWishes.lead}) and after the halt (${usualWishes.tail})
  --slow                the last second before the halt once more, half as fast
  --captions            the call as WebVTT beside each clip
  --burn-in             the call written into the picture
  --recording N         the bout's Nth recording (1)
  --reel FILE.mp4       also one file of all of them, for a message; --reel-mb N its size at most (16)
  --dry-run             only says what would be cut
  --json                for other programs
  --force               takes the place of files that are there
  --ffmpeg PATH, --ffprobe PATH

Faces and voices are personal data: ask the people in a clip before you pass it on.
Ctrl-C leaves nothing half-made.
`;

export const clips: Verb = {
  help,
  run: async (words, streams) => {
    const { values, positionals } = wordsOf(words, {
      ...pickOptions,
      ...{ out: { type: "string" }, lead: { type: "string" }, tail: { type: "string" } },
      ...{ slow: { type: "boolean" }, captions: { type: "boolean" }, "burn-in": { type: "boolean" } },
      ...{ recording: { type: "string" }, reel: { type: "string" }, "reel-mb": { type: "string" } },
      ...{ "dry-run": { type: "boolean" }, json: { type: "boolean" }, force: { type: "boolean" } },
      ...{ ffmpeg: { type: "string" }, ffprobe: { type: "string" } },
    } as const);
    if (positionals.length === 0) throw new Unusable("name at least one bout file");
    if (values.out === undefined) throw new Unusable("say with --out DIR where the clips go");
    const wishes: ClipWishes = {
      lead: numberOf("lead", values.lead, { least: 0, most: 60 }) ?? usualWishes.lead,
      tail: numberOf("tail", values.tail, { least: 0, most: 60 }) ?? usualWishes.tail,
      slow: values.slow === true,
      captions: values.captions === true,
      burnIn: values["burn-in"] === true,
      recording: (numberOf("recording", values.recording, { least: 1, most: 20, whole: true }) ?? 1) - 1,
    };
    const given = pickOf(values);
    const making = {
      cacheDir: defaultTablesFolder(),
      ffmpegPath: values.ffmpeg === undefined ? undefined : path.resolve(values.ffmpeg),
      ffprobePath: values.ffprobe === undefined ? undefined : path.resolve(values.ffprobe),
    };
    const plan: ClipPlan[] = [];
    const picks: Pick[] = [];
    for (const file of new Set(positionals.map((one) => path.resolve(one)))) {
      const pick = values.pick === undefined ? given : await savedPick(file, values.pick, given);
      picks.push(pick);
      plan.push(...(await planOf(file, pick, wishes, making)));
    }
    if (plan.length === 0)
      throw new Unusable(`no phrase is picked by: ${[...new Set(picks.map(pickInWords))].join("; ")}`);
    const reel = values.reel === undefined ? undefined : path.resolve(values.reel);
    if (reel !== undefined && !reel.endsWith(".mp4"))
      throw new Unusable("--reel takes a name that ends in .mp4");
    return cutAll(
      {
        plan,
        folder: path.resolve(values.out),
        force: values.force === true,
        reel,
        megabytes: numberOf("reel-mb", values["reel-mb"], { least: 1, most: 4000 }) ?? 16,
        dry: values["dry-run"] === true,
        json: values.json === true,
      },
      making,
      streams,
    );
  },
};

/** The clips of one bout file. Throws `Unusable` with what is wrong. */
async function planOf(
  file: string,
  pick: Pick,
  wishes: ClipWishes,
  making: MakeOptions,
): Promise<readonly ClipPlan[]> {
  const text = await readText(file);
  if (!text.ok) throw new Unusable(`${file}: ${text.problem}`);
  const { study } = await studyOfFile(file, text.value);
  if (study === undefined)
    throw new Unusable(`${file} can't be read as a bout file; boutline check says why`);
  const { ledger } = study;
  const { entries, lost } = pickedPhrases(ledger, pick);
  const [gone] = lost;
  if (gone !== undefined)
    throw new Unusable(
      `${file}: ${lost.length} of the phrases picked by hand ${lost.length === 1 ? "is" : "are"} not there any more, the first at ${gone.at}; the bout file was changed since. Pick again`,
    );
  if (entries.length === 0) return [];
  const recording = ledger.bout.recordings[wishes.recording];
  if (recording === undefined) throw new Unusable(`${file} names no recording ${wishes.recording + 1}`);
  const source = recordingBeside(file, recording.file);
  if (!source.ok) throw new Unusable(`${file}: ${source.problem}`);
  const frames = await frameTable(source.value, making);
  if (!frames.ok) throw new Unusable(frames.problem.message);
  const { times } = frames.value;
  const last = times.at(-1) ?? 0;
  const plan = phraseClips(
    {
      name: path.basename(file),
      hash: createHash("sha256").update(text.value).digest("hex"),
      ...{ ledger, entries, source: source.value, length: last },
    },
    wishes,
  );
  if (!plan.ok) throw new Unusable(plan.problem);
  return plan.value;
}

interface Asked {
  readonly plan: readonly ClipPlan[];
  readonly folder: string;
  readonly force: boolean;
  readonly reel: string | undefined;
  readonly megabytes: number;
  readonly dry: boolean;
  readonly json: boolean;
}

async function cutAll(
  { plan, folder, force, reel, megabytes, dry, json }: Asked,
  making: MakeOptions,
  { out, errors }: Streams,
): Promise<Status> {
  const seconds = plan.reduce((sum, { from, to, slowRepeat }) => {
    const again = slowRepeat === undefined ? 0 : (slowRepeat.to - slowRepeat.from) / slowRepeat.speed;
    return sum + to - from + again;
  }, 0);
  if (dry) {
    const planned = plan.map(({ name, source, from, to }) => ({ file: `${name}.mp4`, source, from, to }));
    if (json) out(`${JSON.stringify({ clips: 1, dry: true, seconds, planned })}\n`);
    else {
      const rows = planned.map(({ file, source, from, to }) => [
        ...[file, path.basename(source), `${from.toFixed(3)} to ${to.toFixed(3)} s`],
      ]);
      out([...table(rows).map(plain), `would cut ${said(plan.length, seconds)}`, ""].join("\n"));
    }
    return 0;
  }
  if (reel !== undefined && !force && existsSync(reel))
    throw new Unusable(`${reel} is there already; --force writes over it`);
  return untilInterrupted(async (signal) => {
    const progress = (what: string) => (now: { readonly done: number; readonly of: number }) => {
      if (process.stderr.isTTY)
        errors(`\r${what}: ${now.done} of ${now.of}${now.done === now.of ? "\n" : ""}`);
    };
    const options = { ...making, force, signal };
    const made = await cutClips(plan, { ...options, folder, progress: progress("clips") });
    if (!made.ok) throw new Unusable(withoutStop(made.problem.message));
    const row =
      reel === undefined
        ? undefined
        : await cutReel(plan, reel, megabytes, { ...options, progress: progress("reel") });
    if (row?.ok === false)
      throw new Unusable(`the clips are in ${folder}, but not the reel: ${withoutStop(row.problem.message)}`);
    const reelFile = reel === undefined || row === undefined ? null : { file: reel, ...row.value };
    const cut = made.value.made.reduce((sum, { duration }) => sum + duration, 0);
    if (json) out(`${JSON.stringify({ ...made.value, folder, seconds: cut, reel: reelFile })}\n`);
    else {
      out(`${plain(`${said(plan.length, cut)}, in ${folder}`)}\n`);
      if (reelFile !== null)
        out(`${plain(`reel: ${reelFile.file}, ${(reelFile.bytes / 1e6).toFixed(1)} MB`)}\n`);
    }
    return 0;
  });
}

function said(count: number, seconds: number): string {
  return `${count} ${count === 1 ? "clip" : "clips"}, ${seconds.toFixed(1)} s`;
}

function withoutStop(message: string): string {
  return message.replace(/\.$/, "");
}
