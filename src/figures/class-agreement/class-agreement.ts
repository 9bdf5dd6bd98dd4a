// From the key of a pack and the answers of a class: how far each reader agrees with the reference, and all with each
// other. Clips for discussion have no reference; they count where readers are compared with each other, nowhere else.

import { cohensKappa, fleissKappa, krippendorffsAlpha, pairedDifference, wilsonRate } from "../../statistics";
import type { Answer, KeyClip, SeminarAnswers, SeminarKey, Way } from "../seminar-format";
import type {
  AgainstReference,
  ClassAgreement,
  ClipFigures,
  ClipRate,
  Confusion,
  Sitting,
  Together,
} from "./model";
import { callOf, decisiveAction, marksScheme, parts, type Part } from "./parts";

interface Read {
  readonly reader: string;
  readonly way: Way;
  readonly finished: boolean;
  readonly of: ReadonlyMap<string, Answer>;
}

/** A clip of the key with a reference, and what one reader said. */
interface Judged {
  readonly clip: KeyClip;
  readonly reference: Answer;
  readonly answer: Answer | undefined;
}

type Word = (answer: Answer, clip: KeyClip) => string | null;
const call: Word = (answer, clip) => callOf(answer, clip.paper);

export function classAgreementOf(key: SeminarKey, given: readonly SeminarAnswers[]): ClassAgreement {
  const sittings = given.map(readOf).sort(byName);
  const first = key.clips.filter(({ repeats }) => repeats === null);
  const firstOf = oneOfEach(sittings);
  return {
    pack: key.pack,
    title: key.title,
    passMark: key.passMark,
    scheme: marksScheme,
    readers: firstOf.length,
    sittings: sittings.map((sitting) => sittingOf(sitting, key, first)),
    together: parts.flatMap((part) => togetherOf(part, first, firstOf)),
    confusions: confusionsOf(first, sittings),
    clips: first.map((clip) => clipFigures(clip, sittings)).sort(hardestFirst),
    sureness: [1, 2, 3, 4].map((sure) => ({ sure, rate: surenessOf(sure, first, sittings) })),
    ways: waysOf(first, sittings),
  };
}

function readOf({ reader, way, finished, items }: SeminarAnswers): Read {
  const of = new Map(items.flatMap(({ clip, answer }) => (answer === null ? [] : [[clip, answer] as const])));
  return { reader, way, finished: finished !== null, of };
}

function byName(one: Read, other: Read): number {
  const order = (read: Read): string => `${read.reader}\u0000${read.way}`;
  return order(one) < order(other) ? -1 : 1;
}

/** One voice a reader: as live where there is such a sitting, else at the monitor. */
function oneOfEach(sittings: readonly Read[]): readonly Read[] {
  return sittings.filter(
    ({ reader }, index) => sittings.findIndex((other) => other.reader === reader) === index,
  );
}

function judged(clips: readonly KeyClip[], { of }: Read): readonly Judged[] {
  return clips.flatMap((clip) =>
    clip.standing === "scored" && clip.reference !== null
      ? [{ clip, reference: clip.reference, answer: of.get(clip.id) }]
      : [],
  );
}

function sittingOf(read: Read, key: SeminarKey, first: readonly KeyClip[]): Sitting {
  const scored = judged(first, read);
  const { earned, of } = marksOf(scored);
  const share = of === 0 ? null : earned / of;
  return {
    reader: read.reader,
    way: read.way,
    finished: read.finished,
    marks: { earned, of, share },
    // Sums of thirds and halves differ in their last digits.
    passed: key.passMark === null || share === null ? null : share >= key.passMark - 1e-9,
    call: against(scored, call),
    parts: Object.fromEntries(
      parts
        .filter(({ paper }) => first.some((clip) => clip.paper === paper))
        .map((part) => [
          part.name,
          against(
            scored.filter(({ clip }) => clip.paper === part.paper),
            part.word,
          ),
        ]),
    ),
    repeats: repeatsOf(key.clips, read),
  };
}

function marksOf(scored: readonly Judged[]): { earned: number; of: number } {
  let earned = 0;
  let of = 0;
  for (const { clip, reference, answer } of scored)
    for (const { paper, word, mark } of parts) {
      if (paper !== clip.paper || word(reference) === null) continue;
      of++;
      if (answer !== undefined) earned += mark(answer, reference);
    }
  return { earned, of };
}

/** Percent and kappa over the clips which both have answered. */
function against(scored: readonly Judged[], word: Word): AgainstReference {
  const pairs = scored.flatMap(({ clip, reference, answer }) => {
    const right = word(reference, clip);
    const said = answer === undefined ? null : word(answer, clip);
    return right === null || said === null ? [] : [{ clip: clip.id, right, said }];
  });
  const words = [...new Set(pairs.flatMap(({ right, said }) => [right, said]))];
  const table = words.map((right) =>
    words.map((said) => pairs.filter((pair) => pair.right === right && pair.said === said).length),
  );
  return {
    rate: {
      ...wilsonRate(pairs.filter(({ right, said }) => right === said).length, pairs.length),
      clips: pairs.map(({ clip }) => clip),
    },
    kappa: cohensKappa(table),
  };
}

function repeatsOf(clips: readonly KeyClip[], { of }: Read): ClipRate {
  const pairs = clips.flatMap((clip) => {
    const again = of.get(clip.id);
    const before = clip.repeats === null ? undefined : of.get(clip.repeats);
    const words = [again, before].map((answer) => (answer === undefined ? null : call(answer, clip)));
    return clip.repeats === null || words.includes(null)
      ? []
      : [{ clip: clip.repeats, same: words[0] === words[1] }];
  });
  return rated(pairs.map(({ clip, same }) => ({ clip, right: same })));
}

function rated(pairs: readonly { readonly clip: string; readonly right: boolean }[]): ClipRate {
  return {
    ...wilsonRate(pairs.filter(({ right }) => right).length, pairs.length),
    clips: [...new Set(pairs.map(({ clip }) => clip))],
  };
}

function togetherOf(part: Part, clips: readonly KeyClip[], sittings: readonly Read[]): readonly Together[] {
  const units = clips
    .filter(({ paper }) => paper === part.paper)
    .map(({ id }) => ({
      id,
      words: sittings.flatMap(({ of }) => {
        const answer = of.get(id);
        return (answer === undefined ? null : part.word(answer)) ?? [];
      }),
    }));
  if (units.length === 0) return [];
  const several = units.filter(({ words }) => words.length > 1);
  const whole = several.filter(({ words }) => words.length === sittings.length);
  const used = [...new Set(whole.flatMap(({ words }) => words))];
  return [
    {
      part: part.name,
      title: part.title,
      clips: several.map(({ id }) => id),
      split: several.filter(({ words }) => new Set(words).size > 1).map(({ id }) => id),
      alpha: krippendorffsAlpha(several.map(({ words }) => words)),
      fleiss:
        whole.length === 0
          ? null
          : fleissKappa(
              whole.map(({ words }) => used.map((word) => words.filter((one) => one === word).length)),
            ),
    },
  ];
}

function confusionsOf(clips: readonly KeyClip[], sittings: readonly Read[]): readonly Confusion[] {
  const found = new Map<string, { reference: string; said: string; count: number; clips: Set<string> }>();
  for (const { clip, reference, answer } of sittings.flatMap((read) => judged(clips, read))) {
    const right = decisiveAction(reference);
    const said = answer === undefined ? null : decisiveAction(answer);
    if (clip.paper !== "referee" || right === null || said === null || right === said) continue;
    const name = `${right}|${said}`;
    const one = found.get(name) ?? { reference: right, said, count: 0, clips: new Set<string>() };
    one.count++;
    one.clips.add(clip.id);
    found.set(name, one);
  }
  return [...found.values()]
    .sort((one, other) => other.count - one.count)
    .map((one) => ({ ...one, clips: [...one.clips] }));
}

function clipFigures(clip: KeyClip, sittings: readonly Read[]): ClipFigures {
  const said = sittings.map(({ of }) => callOf(of.get(clip.id) ?? null, clip.paper));
  const given = said.filter((word) => word !== null);
  const reference = clip.standing === "scored" ? callOf(clip.reference, clip.paper) : null;
  return {
    clip: clip.id,
    file: clip.file,
    paper: clip.paper,
    standing: clip.standing,
    reference,
    right:
      reference === null ? null : wilsonRate(given.filter((word) => word === reference).length, given.length),
    calls: [...new Set(given)]
      .map((word) => ({ call: word, count: given.filter((one) => one === word).length }))
      .sort((one, other) => other.count - one.count),
    missing: said.length - given.length,
  };
}

function hardestFirst(one: ClipFigures, other: ClipFigures): number {
  return (one.right?.value ?? 2) - (other.right?.value ?? 2);
}

function surenessOf(sure: number, clips: readonly KeyClip[], sittings: readonly Read[]): ClipRate {
  return rated(
    sittings.flatMap((read) =>
      judged(clips, read).flatMap(({ clip, reference, answer }) => {
        const said = answer?.sure === sure ? call(answer, clip) : null;
        const right = call(reference, clip);
        return said === null || right === null ? [] : [{ clip: clip.id, right: said === right }];
      }),
    ),
  );
}

/** Over reader and clip, where the same reader has called the same clip both ways. */
function waysOf(clips: readonly KeyClip[], sittings: readonly Read[]): ClassAgreement["ways"] {
  const pairs = sittings
    .filter(({ way }) => way === "live")
    .flatMap((live) => {
      const monitor = sittings.find(({ way, reader }) => way === "monitor" && reader === live.reader);
      return monitor === undefined
        ? []
        : judged(clips, live).flatMap(({ clip, reference, answer }) => {
            const right = call(reference, clip);
            const again = monitor.of.get(clip.id);
            const words = [answer, again].map((one) => (one === undefined ? null : call(one, clip)));
            return right === null || words.includes(null)
              ? []
              : [{ clip: clip.id, live: words[0] === right, monitor: words[1] === right }];
          });
    });
  if (pairs.length === 0) return null;
  const count = (live: boolean, monitor: boolean) =>
    pairs.filter((pair) => pair.live === live && pair.monitor === monitor).length;
  return {
    live: rated(pairs.map(({ clip, live }) => ({ clip, right: live }))),
    monitor: rated(pairs.map(({ clip, monitor }) => ({ clip, right: monitor }))),
    difference: pairedDifference({
      both: count(true, true),
      first: count(true, false),
      second: count(false, true),
      neither: count(false, false),
    }),
  };
}
