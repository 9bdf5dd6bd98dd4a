// Answers, tags, lamps and reviews as tables.

import { sides } from "../../bout/words";
import type { AnswerWord, Figures, ReviewFigures } from "../model";
import { listed, rateCells, rateColumns, type Table } from "./cells";

export function callTables({ bothLamps, reviews }: Figures): readonly Table[] {
  const reviewRow = (
    by: string,
    { asked, granted, kept, decided, noPicture, success, swung, seconds }: ReviewFigures,
  ) => [
    by,
    ...[asked, granted, kept, decided, noPicture].map(({ length }) => length),
    success.value,
    success.low,
    success.high,
    swung,
    seconds.median,
    listed(asked),
  ];
  return [
    {
      name: "both-lamps",
      columns: ["opened_by", "given_to", ...rateColumns],
      rows: bothLamps.rows.flatMap((row) =>
        (["left", "right", "both", "nothing"] as const).map((to) => [row.opener, to, ...rateCells(row[to])]),
      ),
    },
    {
      name: "both-lamps-opener",
      columns: ["opened_by", ...rateColumns],
      rows: [
        ...sides.map((side) => [side, ...rateCells(bothLamps.toOpener[side])]),
        ["either", ...rateCells(bothLamps.toEitherOpener)],
      ],
    },
    {
      name: "reviews",
      columns: [
        "by",
        "asked",
        "granted",
        "kept",
        "decided",
        "no_picture",
        "success",
        "low",
        "high",
        "swung",
        "median_seconds",
        "entries",
      ],
      rows: [
        ...sides.map((side) => reviewRow(side, reviews.sides[side])),
        reviewRow("officials", reviews.officials),
      ],
    },
    {
      name: "reviews-listed",
      columns: [
        "entry",
        "phrase",
        "by",
        "result",
        "stood",
        "stands",
        "score_left",
        "score_right",
        "situation",
        "seconds",
        "swung",
        "lamps",
        "contested",
        "appeals_left",
        "appeals_right",
      ],
      rows: reviews.lines.map((line) => [
        line.entry,
        line.of,
        line.by,
        line.result,
        line.stood,
        line.stands,
        ...line.score,
        line.situation,
        line.seconds,
        line.swung,
        line.lamps,
        line.contested,
        line.appealsLeft?.left ?? null,
        line.appealsLeft?.right ?? null,
      ]),
    },
  ];
}

function answerWords(word: AnswerWord | null): string {
  return word === null ? "" : `${word.doer} ${word.group}`;
}

export function wordTables({ answers, tags }: Figures): readonly Table[] {
  return [
    {
      name: "answers",
      columns: ["first", "second", "phrases", "touches_left", "touches_right", "entries"],
      rows: answers.cells.map(({ first, second, phrases, counts }) => [
        answerWords(first),
        answerWords(second),
        phrases.length,
        counts.left.length,
        counts.right.length,
        listed(phrases),
      ]),
    },
    {
      name: "tags",
      columns: ["tag", "definition", "side", ...rateColumns],
      rows: tags.rows.flatMap(({ tag, definition, touches }) =>
        sides.map((side) => [tag, definition, side, ...rateCells(touches[side])]),
      ),
    },
  ];
}
