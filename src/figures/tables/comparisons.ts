// Comparisons as a table, one row each.

import type { Comparisons } from "../model";
import type { Table } from "./cells";

/** One row a comparison: what is measured stands in `value`, the difference in points of a share, or the ratio. */
export function comparisonsTable(name: string, { tried, list }: Comparisons): Table {
  return {
    name,
    columns: [
      "key",
      "question",
      "kind",
      "first",
      "first_count",
      "first_of",
      "second",
      "second_count",
      "second_of",
      "value",
      "low",
      "high",
      "p",
      "adjusted_p",
      "tried",
      "words",
    ],
    rows: list.map((one) => {
      const end = [one.p, one.adjusted, tried, one.words] as const;
      const start = [one.key, one.question, one.kind] as const;
      switch (one.kind) {
        case "shares": {
          const {
            first,
            second,
            difference: { value, low, high },
          } = one;
          return [
            ...start,
            first.label,
            first.count,
            first.of,
            second.label,
            second.count,
            second.of,
            value,
            low,
            high,
            ...end,
          ];
        }
        case "paired": {
          const {
            first,
            second,
            of,
            difference: { value, low, high },
          } = one;
          return [
            ...start,
            first.label,
            first.entries.length,
            of,
            second.label,
            second.entries.length,
            of,
            value,
            low,
            high,
            ...end,
          ];
        }
        case "rates": {
          const {
            first,
            second,
            ratio: { value, low, high },
          } = one;
          return [
            ...start,
            first.label,
            first.count,
            first.minutes,
            second.label,
            second.count,
            second.minutes,
            value,
            low,
            high,
            ...end,
          ];
        }
        case "order": {
          const {
            seen: { count, expected, usual },
            touches,
          } = one;
          return [
            ...start,
            "seen",
            count,
            touches,
            "expected",
            expected,
            touches,
            count,
            usual.low,
            usual.high,
            ...end,
          ];
        }
      }
    }),
  };
}
