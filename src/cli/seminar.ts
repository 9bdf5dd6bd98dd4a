// `boutline seminar`: a pack of clips with the call hidden, to be answered in any browser, and its key.

import { randomBytes } from "node:crypto";
import path from "node:path";
import { pickInWords } from "../figures/pick-words";
import { ways, type Way } from "../figures/seminar-format";
import { defaultTablesFolder } from "../video/index";
import { plain } from "./lines";
import { pickOf, pickOptions, savedPick } from "./pick-options";
import { questionsOf, type Question } from "./seminar-clips";
import { drawn, writePack } from "./seminar-pack";
import { untilInterrupted } from "./interrupt";
import { numberOf, Unusable, wordsOf, type Status, type Streams, type Verb } from "./verb";

const help = `boutline seminar FILE... --out DIR [OPTIONS]

Makes a seminar pack from bout files: DIR/pack, a folder to give to readers, which
opens in any browser, and DIR/key.json, which stays with you. A clip begins before
the command to fence and ends once the lamps have settled, before the referee's
first signal. What else must not be seen is masked by boxes, drawn once a shot, in
NAME.masks.json beside NAME.bout.json:
  { "masks": 1, "shots": { "main": { "boxes": [{ "x": 0, "y": 0, "width": 0.2, "height": 0.1 }],
                                     "lamps": [], "freeze": 400 } } }

  --pick NAME        which phrases: a pick saved beside the first FILE; and all the
                     options of boutline clips that pick (--actions, --award, --card,
                     --tags, --numbers and so on); without any every phrase
  --clips N          so many of them, drawn by chance; a quarter without a touch
                     where there are that many
  --repeats N        so many are shown twice, unannounced (0)
  --assistants N     so many ask the assistants' questions (0)
  --way WAY          live or monitor; both may be given (both)
  --answer-seconds N time to answer as live (20)
  --lead N           seconds shown before the command to fence (2)
  --freeze N         milliseconds after the halt a clip ends
                     (by weapon: foil 400, sabre 270, épée 150)
  --hide-lamps       masks the lamps too: a drill
  --reveal           THE PACK THEN HOLDS THE ANSWERS and shows each after it was given
  --pass N           share of right answers that passes, 0 to 1
  --seed WORD        the same word draws the same clips
  --title TEXT       the pack's title
  --force            a pack that is there is made anew
  --changed          goes on where a recording is not the one clips were cut from before
  --ffmpeg PATH, --ffprobe PATH   the programs to use

Until a panel has answered, the key takes what the bout files say for right. Let
three or more people answer the pack as the panel, then: boutline reference --help.
`;

export const seminar: Verb = {
  help,
  run: async (words, streams) => {
    const { values, positionals } = wordsOf(words, {
      ...pickOptions,
      ...{ out: { type: "string" }, clips: { type: "string" } },
      ...{
        repeats: { type: "string" },
        assistants: { type: "string" },
        way: { type: "string", multiple: true },
      },
      ...{ "answer-seconds": { type: "string" }, lead: { type: "string" }, freeze: { type: "string" } },
      ...{ "hide-lamps": { type: "boolean" }, reveal: { type: "boolean" }, pass: { type: "string" } },
      ...{ seed: { type: "string" }, title: { type: "string" }, force: { type: "boolean" } },
      ...{ changed: { type: "boolean" } },
      ...{ ffmpeg: { type: "string" }, ffprobe: { type: "string" } },
    } as const);
    const [first] = positionals;
    if (first === undefined) throw new Unusable("name at least one bout file");
    if (values.out === undefined) throw new Unusable("say where with --out DIR");
    const hideLamps = values["hide-lamps"] === true;
    const showing = {
      lead: numberOf("lead", values.lead, { least: 0, most: 60 }) ?? 2,
      freeze: numberOf("freeze", values.freeze, { least: 0, most: 10_000 }),
      hideLamps,
      goOn: values.changed === true,
    };
    const making = {
      cacheDir: defaultTablesFolder(),
      ffmpegPath: values.ffmpeg === undefined ? undefined : path.resolve(values.ffmpeg),
      ffprobePath: values.ffprobe === undefined ? undefined : path.resolve(values.ffprobe),
    };
    const options = {
      title: values.title?.trim() || "Seminar",
      ways: waysOf(values.way),
      hideLamps,
      reveal: values.reveal === true ? ("after each" as const) : ("never" as const),
      answerSeconds: numberOf("answer-seconds", values["answer-seconds"], { least: 3, most: 600 }) ?? 20,
      passMark: numberOf("pass", values.pass, { least: 0, most: 1 }) ?? null,
      seed: values.seed ?? randomBytes(16).toString("hex"),
      clips: numberOf("clips", values.clips, { least: 1, most: 500, whole: true }),
      repeats: numberOf("repeats", values.repeats, { least: 0, most: 500, whole: true }) ?? 0,
      assistants: numberOf("assistants", values.assistants, { least: 0, most: 500, whole: true }) ?? 0,
    };
    const say = (message: string) => streams.errors(plain(`boutline seminar: ${message}`) + "\n");
    const complain = (message: string): Status => {
      say(message);
      return 2;
    };
    const given = pickOf(values);
    const pick = values.pick === undefined ? given : await savedPick(first, values.pick, given);
    const files = [...new Set(positionals.map((file) => path.resolve(file)))];
    const questions: Question[] = [];
    for (const file of files) {
      const found = await questionsOf(file, pick, showing, making);
      if (!found.ok) return complain(found.problem);
      questions.push(...found.value.questions);
      found.value.notes.forEach(say);
    }
    if (questions.length === 0)
      return complain(`no phrase is picked by "${pickInWords(pick)}"; nothing was made`);
    if (options.clips !== undefined && options.clips > questions.length)
      return complain(
        `${options.clips} clips are asked for, and only ${questions.length} phrases are picked`,
      );
    const clips = drawn(questions, options);
    return untilInterrupted(async (signal) => {
      const made = await writePack(path.resolve(values.out ?? ""), clips, options, {
        ...making,
        signal,
        force: values.force === true,
        progress: ({ done, of }) => progressLine(streams, done, of),
      });
      if (!made.ok) return complain(made.problem);
      for (const line of summary(
        values.out ?? "",
        made.value.clips.length,
        options.reveal,
        showing.hideLamps,
      ))
        streams.out(plain(line) + "\n");
      return 0;
    });
  },
};

function summary(
  out: string,
  clips: number,
  reveal: "never" | "after each",
  hideLamps: boolean,
): readonly string[] {
  return [
    `${path.join(out, "pack")}: ${clips} clips, to give to readers; they open index.html in a browser`,
    `${path.join(out, "key.json")}: the key, which stays with you. What the bout files say counts as right until a panel has answered.`,
    ...(hideLamps ? ["The lamps are hidden: a drill."] : []),
    reveal === "after each"
      ? "THE PACK HOLDS THE ANSWERS: the page shows each after it was given, and anybody can read them in its text."
      : "The pack holds no answer. Look at it before you give it away: what is not masked is seen.",
  ];
}

function progressLine({ errors }: Streams, done: number, of: number): void {
  if (process.stderr.isTTY) errors(`\r${done} of ${of} clips${done === of ? "\n" : ""}`);
  else if (done === of || done % 10 === 0) errors(`${done} of ${of} clips\n`);
}

function waysOf(written: readonly string[] | undefined): Way[] {
  if (written === undefined) return [...ways];
  const wrong = written.find((one) => !(ways as readonly string[]).includes(one));
  if (wrong !== undefined) throw new Unusable(`--way is live or monitor, not "${wrong}"`);
  return ways.filter((way) => written.includes(way));
}
