import { expect, test } from "vitest";
import type { Milliseconds } from "../../src/bout/time";
import { editBout } from "../../src/bout/edit";
import { placingChange } from "../../src/host/placing";
import { boutText, second, studied } from "./bouts";

const at = 2000 as Milliseconds;
const corners = [
  [0.123456789, 0.5],
  [0.2, 0.500004],
] as const;

function entries(log: readonly object[], placed: Parameters<typeof placingChange>[2]): unknown {
  const { reading } = studied(boutText(log));
  if (reading.bout === undefined) throw new Error("no bout");
  const change = placingChange(reading.bout, at, placed);
  if (change === undefined) return undefined;
  const edited = editBout(reading.scan, change);
  if (!edited.ok) throw new Error(edited.problem.message);
  return (JSON.parse(edited.value.text) as { log: unknown[] }).log;
}

test("Placed corners are written to a hundred-thousandth of the picture", () => {
  expect(entries([], { kind: "platforms", left: corners, right: null })).toEqual([
    {
      kind: "platforms",
      at: second(2),
      left: [
        [0.12346, 0.5],
        [0.2, 0.5],
      ],
    },
  ]);
});

test("A fit keeps its floor points to the millimetre", () => {
  const points = [
    { image: [0.1, 0.2], floor: [-2, 0.30000000000000004] },
    { image: [0.9, 0.2], floor: [2, -0] },
  ] as const;
  expect(entries([], { kind: "fit", points })).toEqual([
    {
      kind: "fit",
      at: second(2),
      points: [
        { image: [0.1, 0.2], floor: [-2, 0.3] },
        { image: [0.9, 0.2], floor: [2, 0] },
      ],
    },
  ]);
});

test("Corners placed again at the same frame take the place of the earlier ones", () => {
  const earlier = { kind: "platforms", at: second(2), left: corners, right: corners };
  const again = [
    [0.7, 0.5],
    [0.8, 0.5],
  ] as const;
  expect(entries([earlier], { kind: "platforms", left: null, right: again })).toEqual([
    { ...earlier, right: again },
  ]);
});

test("Without a corner there is nothing to write", () => {
  expect(entries([], { kind: "platforms", left: null, right: null })).toBeUndefined();
});
