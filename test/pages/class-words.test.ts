import { expect, test } from "vitest";
import { callOf } from "../../src/figures/class-agreement/parts";
import type { Together } from "../../src/figures/class-agreement";
import type { Answer } from "../../src/figures/seminar-format";
import { verdictInRow, verdicts } from "../../src/pages/class-words";

const part = (title: string, split: readonly string[]) =>
  ({ title, clips: ["a", "b"], split, alpha: { value: 0.5, low: 0.1, high: 0.9 } }) as unknown as Together;

test("all that nobody differs on stands in one line", () => {
  expect(verdicts([part("the card", []), part("who opened", ["a"]), part("lifting", [])])).toEqual([
    "The class agrees better than chance on who opened; it differs in 1 of 2 clips.",
    "The class is of one mind in every clip on the card and lifting.",
  ]);
});

test("a row that names its part says the rest in few words", () => {
  const unsure = {
    ...part("lifting", ["a"]),
    alpha: { value: 0.1, low: -0.2, high: 0.4 },
  } as unknown as Together;
  const alone = { ...part("feet", []), clips: [] } as unknown as Together;
  expect([part("the card", []), part("who opened", ["a"]), unsure, alone].map(verdictInRow)).toEqual([
    "of one mind in every clip",
    "better than chance; differs in 1 of 2 clips",
    "no better than chance can explain",
    "no clip has two answers",
  ]);
});

test("an assistants' call names its duties", () => {
  const assistants = { lifting: "none", feet: "left", earlyStart: "none", looseChair: "none" };
  expect(callOf({ assistants } as unknown as Answer, "assistants")).toBe(
    "lifting none, feet left, early start none, loose chair none",
  );
});
