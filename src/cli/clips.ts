// `boutline clips`: picked phrases cut out of their recordings, with a manifest, and a reel of them.

import { existsSync } from "node:fs";
import path from "node:path";
import { defaultTablesFolder, type MakeOptions } from "../video/index";
import { pickInWords, type Pick } from "../figures";
import { cutClips, cutReel, manifestName, usualWishes, type ClipPlan, type ClipWishes } from "../video/clips";
import { clipsAgain } from "./clips-again";
import { planOf } from "./clips-plan";
import { plain, table } from "./lines";
import { pickOptions, pickOf, savedPick } from "./pick-options";
import { untilInterrupted } from "./interrupt";
import { numberOf, Unusable, wordsOf, type Status, type Streams, type Verb } from "./verb";

const help = `boutline clips FILE... --out DIR [OPTIONS]
boutline clips --again ${manifestName} --out DIR [OPTIONS]

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

Made again, from the ${manifestName} of clips cut before (with the same ffmpeg the same pictures):
  --again FILE          the clips it tells of, in the place of bout files, picks and the way they are cut
  --from PATH           the folder of the recordings, or a recording; may be given several times
                        (beside FILE, and one folder up)
  --changed             goes on where a recording is not the one clips were cut from before

Whether a recording is the one that was tagged can't be known from a bout file. It is refused where
a ${manifestName} beside the bout file or in DIR tells of another content, and noted where the bout file
goes on after its end or names times that are none of its frames.

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
      ...{
        again: { type: "string" },
        from: { type: "string", multiple: true },
        changed: { type: "boolean" },
      },
    } as const);
    const { again, out } = values;
    if (again === undefined) {
      if (positionals.length === 0) throw new Unusable("name at least one bout file");
      if (values.from !== undefined) throw new Unusable("--from belongs to --again");
    } else {
      const [file] = positionals;
      if (file !== undefined) throw new Unusable(`--again takes no bout file, and ${file} is named`);
      const other = notAgain.find((name) => values[name] !== undefined);
      if (other !== undefined) throw new Unusable(`--again cuts as the manifest says; leave --${other} out`);
    }
    if (out === undefined) throw new Unusable("say with --out DIR where the clips go");
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
    const asked = (plan: readonly ClipPlan[], notes: readonly string[], ffmpeg?: string): Asked => ({
      ...{ plan, notes, ffmpeg, folder: path.resolve(out) },
      ...{ force: values.force === true, reel: reelOf(values.reel) },
      megabytes: numberOf("reel-mb", values["reel-mb"], { least: 1, most: 4000 }) ?? 16,
      ...{ dry: values["dry-run"] === true, json: values.json === true },
    });
    if (again !== undefined) {
      const told = await clipsAgain(again, values.from ?? [], values.changed === true);
      return cutAll(asked(told.plan, told.notes, told.ffmpeg), making, streams);
    }
    const plan: ClipPlan[] = [];
    const notes: string[] = [];
    const picks: Pick[] = [];
    const before = { out: path.resolve(out), goOn: values.changed === true };
    for (const file of new Set(positionals.map((one) => path.resolve(one)))) {
      const pick = values.pick === undefined ? given : await savedPick(file, values.pick, given);
      picks.push(pick);
      const found = await planOf(file, pick, wishes, before, making);
      plan.push(...found.plan);
      notes.push(...found.notes);
    }
    if (plan.length === 0)
      throw new Unusable(`no phrase is picked by: ${[...new Set(picks.map(pickInWords))].join("; ")}`);
    return cutAll(asked(plan, notes), making, streams);
  },
};

/** What a manifest says already. */
const notAgain = [
  ...(Object.keys(pickOptions) as (keyof typeof pickOptions)[]),
  ...(["lead", "tail", "slow", "captions", "burn-in", "recording"] as const),
];

function reelOf(written: string | undefined): string | undefined {
  if (written !== undefined && !written.endsWith(".mp4"))
    throw new Unusable("--reel takes a name that ends in .mp4");
  return written === undefined ? undefined : path.resolve(written);
}

interface Asked {
  readonly plan: readonly ClipPlan[];
  /** What the user should know before looking at them. */
  readonly notes: readonly string[];
  /** Version of the ffmpeg they were made with before. */
  readonly ffmpeg: string | undefined;
  readonly folder: string;
  readonly force: boolean;
  readonly reel: string | undefined;
  readonly megabytes: number;
  readonly dry: boolean;
  readonly json: boolean;
}

async function cutAll(
  { plan, notes, ffmpeg, folder, force, reel, megabytes, dry, json }: Asked,
  making: MakeOptions,
  { out, errors }: Streams,
): Promise<Status> {
  const note = (text: string) => errors(plain(`boutline clips: ${text}`) + "\n");
  notes.forEach(note);
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
    if (ffmpeg !== undefined && ffmpeg !== made.value.ffmpeg)
      note(`made with ffmpeg ${made.value.ffmpeg}, before with ${ffmpeg}: the pictures can differ a little.`);
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
