// Puts a pack together: draws the clips, gives them names without a meaning, and writes pack and key. Nothing in the pack
// tells what a clip is: neither its name, size or date, nor its place.

import { createHash, randomBytes } from "node:crypto";
import { existsSync } from "node:fs";
import { appendFile, mkdir, mkdtemp, readFile, rename, rm, utimes, writeFile } from "node:fs/promises";
import path from "node:path";
import { failure, success, type Result } from "../bout/result";
import { shuffled, stretches, type PackClip, type SeminarPack } from "../figures/seminar-pack";
import type { Answer, KeyClip, SeminarKey } from "../figures/seminar-format";
import { answerOfBout } from "../figures/seminar-reference";
import { seminarPage } from "../pages/seminar-page";
import { seededRandom } from "../statistics";
import { frameTable } from "../video/index";
import { cutClips, type ClipPlan, type ClipsProgress } from "../video/clips";
import type { MakeOptions } from "../video/problem";
import type { Question } from "./seminar-clips";

export interface PackOptions extends Pick<
  SeminarKey,
  "title" | "ways" | "hideLamps" | "reveal" | "answerSeconds" | "passMark" | "seed"
> {
  readonly clips: number | undefined;
  readonly repeats: number;
  /** How many of the clips ask the assistants' questions. */
  readonly assistants: number;
}

/** A clip of the pack with what it shows. */
interface Drawn {
  readonly question: Question;
  readonly key: KeyClip;
  readonly shown: PackClip;
}

/** The clips that are asked about. At least a quarter are phrases without a touch, where there are that many. */
export function drawn(questions: readonly Question[], options: PackOptions): readonly Drawn[] {
  const { seed, clips: wanted = questions.length } = options;
  const random = seededRandom(Number.parseInt(digest(seed, "draw").slice(0, 8), 16));
  const mixed = shuffled(questions, random);
  const isWithout = ({ row }: Question) => row.phrase.stands === "none" || row.phrase.stands === null;
  const without = mixed.filter(isWithout).slice(0, Math.ceil(wanted / 4));
  const chosen = shuffled(
    [...without, ...mixed.filter((one) => !without.includes(one))].slice(0, wanted),
    random,
  );
  const repeated = chosen.slice(0, Math.min(options.repeats, chosen.length));
  const names = new Set<string>();
  const nameFor = (what: string) => {
    for (let turn = 0; ; turn++) {
      const id = digest(seed, `${what} ${turn}`).slice(0, 8);
      if (names.has(id)) continue;
      names.add(id);
      return id;
    }
  };
  const clip = (question: Question, index: number, repeats: string | null): Drawn => {
    const id = nameFor(`clip ${index} ${repeats ?? ""}`);
    const paper = index >= chosen.length - options.assistants ? "assistants" : "referee";
    const reference = answerOfBout(question.ledger, question.row, paper);
    const scored = Object.values({ ...reference, card: null, sure: null, ...reference.assistants }).some(
      (part) => part !== null && (typeof part !== "object" || Array.isArray(part)),
    );
    const again = repeats !== null;
    const isRepeated = repeated.includes(question);
    return {
      question,
      key: {
        ...{ id, file: `clips/${id}.mp4`, repeats, paper },
        source: { bout: question.bout, hash: question.hash, phrase: question.phrase },
        standing: scored ? "scored" : "for discussion",
        reference: scored ? reference : null,
        panel: [],
      },
      shown: {
        ...{ id, file: `clips/${id}.mp4`, paper },
        stretch: again ? stretches - 1 : isRepeated ? 0 : index % stretches,
      },
    };
  };
  const firsts = chosen.map((question, index) => clip(question, index, null));
  const seconds = repeated.map((question, index) => clip(question, index, firsts[index]?.key.id ?? null));
  // By name, which says nothing.
  return [...firsts, ...seconds].sort((one, other) => (one.key.id < other.key.id ? -1 : 1));
}

function digest(seed: string, what: string): string {
  return createHash("sha256").update(`${what}\n${seed}`).digest("hex");
}

export async function writePack(
  folder: string,
  clips: readonly Drawn[],
  options: PackOptions,
  work: MakeOptions & { readonly force: boolean; readonly progress: (progress: ClipsProgress) => void },
): Promise<Result<SeminarKey, string>> {
  const place = { pack: path.join(folder, "pack"), key: path.join(folder, "key.json") };
  const there = Object.values(place).find((one) => existsSync(one));
  if (there !== undefined && !work.force) return failure(`${there} is there already; --force makes it anew`);
  const fresh = !existsSync(folder);
  let own: string | undefined;
  let done = false;
  try {
    await mkdir(folder, { recursive: true });
    own = await mkdtemp(path.join(folder, ".seminar-part-"));
    const made = await cut(path.join(own, "pack", "clips"), clips, work);
    if (!made.ok) return made;
    const key = keyOf(clips, options);
    await writeFile(path.join(own, "pack", "index.html"), await pageOf(packOf(key, clips)));
    await writeFile(path.join(own, "key.json"), JSON.stringify(key, undefined, 2) + "\n");
    if (work.signal?.aborted === true) return failure("given up; nothing was written");
    // The old ones stay until the new ones are whole.
    for (const [name, target] of Object.entries(place))
      if (existsSync(target)) await rename(target, path.join(own, `old-${name}`));
    await rename(path.join(own, "pack"), place.pack);
    await rename(path.join(own, "key.json"), place.key);
    done = true;
    return success(key);
  } catch (error) {
    return failure(`${folder} can't be written (${error instanceof Error ? error.message : String(error)})`);
  } finally {
    if (own !== undefined) await rm(own, { recursive: true, force: true }).catch(() => undefined);
    if (fresh && !done) await rm(folder, { recursive: true, force: true }).catch(() => undefined);
  }
}

/** Seconds the picture stands at the end of a clip without sound, so that it stands in every player; the page then lets
 * its last frame be. */
const still = 1;

async function cut(
  folder: string,
  clips: readonly Drawn[],
  work: MakeOptions & { readonly progress: (progress: ClipsProgress) => void },
): Promise<Result<null, string>> {
  const plan: ClipPlan[] = [];
  for (const { key, question } of clips) {
    const { recording: source, from, to: freezeAt, boxes } = question;
    const frames = await frameTable(source, work);
    if (!frames.ok) return failure(frames.problem.message);
    // Beyond the recording's end it is refused where it is cut.
    const to = Math.max(freezeAt, Math.min(freezeAt + still, frames.value.times.at(-1) ?? 0));
    plan.push({ source, name: key.id, from, to, freezeAt, boxes });
  }
  const made = await cutClips(plan, { ...work, folder, manifest: false });
  if (!made.ok) return failure(made.problem.message);
  const one = new Date();
  for (const { key } of clips) {
    const file = path.join(folder, `${key.id}.mp4`);
    await appendFile(file, filling());
    await utimes(file, one, one);
  }
  return success(null);
}

/** A `free` box of any size at the end (ISO/IEC 14496-12, 8.1.2), so that a repeat is not told by its size. */
function filling(): Buffer {
  const content = randomBytes(512 + (randomBytes(2).readUInt16BE() % 8192));
  const head = Buffer.alloc(8);
  head.writeUInt32BE(8 + content.length);
  head.write("free", 4, "latin1");
  return Buffer.concat([head, content]);
}

function keyOf(clips: readonly Drawn[], options: PackOptions): SeminarKey {
  const { title, ways, hideLamps, reveal, answerSeconds, passMark, seed } = options;
  return {
    ...{ key: 1, pack: randomBytes(16).toString("hex"), title, made: new Date().toISOString() },
    ...{ ways, hideLamps, reveal, answerSeconds, passMark, seed },
    clips: clips.map(({ key }) => key),
  };
}

function packOf(key: SeminarKey, clips: readonly Drawn[]): SeminarPack {
  const { pack, title, ways, hideLamps, answerSeconds } = key;
  const revealed: [string, Answer][] = key.clips.flatMap(({ id, standing, reference }) =>
    standing === "scored" && reference !== null ? [[id, reference]] : [],
  );
  return {
    ...{ pack, title, ways, hideLamps, answerSeconds, order: randomBytes(16).toString("hex") },
    clips: clips.map(({ shown }) => shown),
    ...(key.reveal === "after each" ? { revealed: Object.fromEntries(revealed) } : {}),
  };
}

/** Script and style ship beside the folder the command is built into. */
async function pageOf(pack: SeminarPack): Promise<string> {
  const inlined = async (...file: readonly string[]) => {
    const text = await readFile(path.join(__dirname, "..", ...file), "utf8");
    return { text, hash: createHash("sha256").update(text).digest("base64") };
  };
  return seminarPage(pack, await inlined("dist", "seminar.js"), await inlined("media", "seminar.css"));
}
