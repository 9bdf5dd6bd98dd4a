// What a class makes as tables for spreadsheets: one a question. media/seminars.md says what each column means.

import type { Table } from "../tables";
import type { AgainstReference, ClassAgreement, ClipRate } from "./model";

const rateColumns = ["count", "of", "share", "low", "high"] as const;
const rateCells = ({ count, of, value, low, high }: Omit<ClipRate, "clips">) => [count, of, value, low, high];
const kappaCells = ({ kappa: { value, low, high } }: AgainstReference) => [value, low, high];
const yesNo = (value: boolean | null) => (value === null ? null : value ? "yes" : "no");
const listed = (clips: readonly string[]) => clips.join(" ");

/** Shares lie from 0 to 1; cells are empty where nothing can be said. */
export function classTables(found: ClassAgreement): readonly Table[] {
  const { sittings, together, clips, confusions, sureness, ways } = found;
  const against = sittings.flatMap(({ reader, way, call, parts }) =>
    Object.entries({ call, ...parts }).map(([part, one]) => [
      ...[reader, way, part],
      ...[...rateCells(one.rate), ...kappaCells(one), listed(one.rate.clips)],
    ]),
  );
  return [
    {
      name: "readers",
      columns: [
        ...["reader", "way", "finished", "marks", "marks_of", "passed"],
        ...["repeats_alike", "repeats_of"],
      ],
      rows: sittings.map(({ reader, way, finished, marks, passed, repeats }) => [
        ...[reader, way, yesNo(finished), marks.earned, marks.of, yesNo(passed)],
        ...[repeats.count, repeats.of],
      ]),
    },
    {
      name: "against-reference",
      columns: ["reader", "way", "part", ...rateColumns, "kappa", "kappa_low", "kappa_high", "clips"],
      rows: against,
    },
    {
      name: "together",
      columns: [
        ...["part", "clips_compared", "clips_differing", "alike", "alpha", "alpha_low", "alpha_high"],
        ...["fleiss_clips", "fleiss", "fleiss_low", "fleiss_high", "differing"],
      ],
      rows: together.map(({ part, clips: compared, split, alpha, fleiss }) => [
        ...[part, compared.length, split.length, alpha.alike, alpha.value, alpha.low, alpha.high],
        ...[fleiss?.cases ?? 0, fleiss?.value ?? null, fleiss?.low ?? null, fleiss?.high ?? null],
        listed(split),
      ]),
    },
    {
      name: "clips",
      columns: ["clip", "paper", "standing", "reference", ...rateColumns, "missing"],
      rows: clips.map(({ clip, paper, standing, reference, right, missing }) => [
        ...[clip, paper, standing, reference],
        ...(right === null ? [null, null, null, null, null] : rateCells(right)),
        missing,
      ]),
    },
    {
      name: "calls",
      columns: ["clip", "call", "readers"],
      rows: clips.flatMap(({ clip, calls }) => calls.map(({ call, count }) => [clip, call, count])),
    },
    {
      name: "pairs",
      columns: ["reference", "called", "times", "clips"],
      rows: confusions.map(({ reference, said, count, clips: at }) => [reference, said, count, listed(at)]),
    },
    {
      name: "sureness",
      columns: ["sure", ...rateColumns, "clips"],
      rows: sureness.map(({ sure, rate }) => [sure, ...rateCells(rate), listed(rate.clips)]),
    },
    {
      name: "ways",
      columns: ["way", ...rateColumns, "clips"],
      rows:
        ways === null
          ? []
          : [
              ["live", ...rateCells(ways.live), listed(ways.live.clips)],
              ["monitor", ...rateCells(ways.monitor), listed(ways.monitor.clips)],
              [
                ...["live less monitor", null, null],
                ...[ways.difference.value, ways.difference.low, ways.difference.high, null],
              ],
            ],
    },
  ];
}
