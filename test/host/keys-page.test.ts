import { expect, test } from "vitest";
import { boundKeys } from "../../src/host/bound-keys";
import { keysPage } from "../../src/host/keys-page";
import { commands } from "../../src/messages/commands";

test("The help page names every command once, with its key as bound now", () => {
  const page = keysPage(boundKeys([{ key: "ctrl+alt+f", command: "boutline.attack.left" }]));
  const rows = page.split("\n").filter((line) => line.startsWith("| ") && !/^\| (What \||---)/.test(line));
  expect(rows).toHaveLength(commands.length);
  expect(page).toContain("| Attack, left fencer | `` Ctrl Alt F `` or `` F `` |");
  expect(page).toContain("| Slower | `` [ `` |");
  expect(page).toContain("| Open the demo bout |  |");
});
