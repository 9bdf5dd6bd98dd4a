import { expect, test } from "vitest";
import { KeyStamps } from "../../src/viewer/stamps";

const frame = (at: number) => ({ at, frame: 20 });

test("a command takes the frame its own key press was made at, in the order of the presses", () => {
  const stamps = new KeyStamps();
  stamps.press("KeyF", frame(1000), 0);
  stamps.press("KeyK", frame(1040), 40);
  stamps.press("KeyF", frame(1080), 80);
  expect(stamps.take("KeyF", 120)?.at).toBe(1000);
  expect(stamps.take("KeyK", 120)?.at).toBe(1040);
  expect(stamps.take("KeyF", 160)?.at).toBe(1080);
  expect(stamps.take("KeyF", 160)).toBeUndefined();
});

test("a press that never became a command does not stand in for a later one", () => {
  const stamps = new KeyStamps();
  stamps.press("KeyF", frame(1000), 0);
  stamps.press("KeyF", frame(9000), 2000);
  expect(stamps.take("KeyF", 2060)?.at).toBe(9000);
});

test("a command that comes very late still finds its press", () => {
  const stamps = new KeyStamps();
  stamps.press("KeyF", frame(1000), 0);
  stamps.press("KeyF", frame(1100), 100);
  expect(stamps.take("KeyF", 3000)?.at).toBe(1100);
});

test("presses of long ago are forgotten", () => {
  const stamps = new KeyStamps();
  stamps.press("KeyF", frame(1000), 0);
  expect(stamps.take("KeyF", 10_001)).toBeUndefined();
});

test("a key held down for long does not push another key's press out", () => {
  const stamps = new KeyStamps();
  stamps.press("KeyV", frame(500), 0);
  for (let count = 0; count < 200; count += 1) stamps.press("ArrowRight", frame(500 + count), count);
  expect(stamps.take("KeyV", 250)?.at).toBe(500);
});
