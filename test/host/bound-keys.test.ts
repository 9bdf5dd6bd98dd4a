import { expect, test } from "vitest";
import { boundKeys, changedKeys, keyWords } from "../../src/host/bound-keys";
import { commands, keyText } from "../../src/messages/commands";

const keysOf = (id: string, user: unknown) => boundKeys(user).get(id);

test("Without changes of the user every command has the keys that ship", () => {
  for (const user of [undefined, null, {}, [], [{ key: 1, command: "boutline.fence" }, "x", null]]) {
    for (const { id, keys } of commands) expect(keysOf(id, user)).toEqual(keys.map(keyText));
    expect(changedKeys(user)).toEqual({});
  }
});

test("A key the user gave comes first, one taken away is gone", () => {
  const user = [
    { key: "ctrl+shift+f", command: "boutline.attack.left" },
    { key: "[KeyF]", command: "-boutline.attack.left" },
    { key: "[KeyX]", command: "-boutline.card.left" },
  ];
  expect(keysOf("boutline.attack.left", user)).toEqual(["ctrl+shift+f"]);
  expect(keysOf("boutline.card.left", user)).toEqual([]);
  expect(changedKeys(user)).toEqual({ "boutline.attack.left": "Ctrl Shift F", "boutline.card.left": "" });
});

test("A key given by position is taken away by whatever letter stands there", () => {
  expect(keysOf("boutline.attack.left", [{ key: "f", command: "-boutline.attack.left" }])).toEqual([]);
  expect(keysOf("boutline.valid.left", [{ key: "ö", command: "-boutline.valid.left" }])).toEqual([]);
  expect(keysOf("boutline.play", [{ key: "ctrl+space", command: "-boutline.play" }])).toEqual(["[Space]"]);
});

test("Of two keys only the one taken away goes", () => {
  const user = [{ key: "shift+[KeyF]", command: "-boutline.attack.both" }];
  expect(keysOf("boutline.attack.both", user)).toEqual(["shift+[KeyJ]"]);
});

test("Keys are named in words", () => {
  expect(keyWords("[KeyF]")).toBe("F");
  expect(keyWords("shift+[Digit1]")).toBe("Shift 1");
  expect(keyWords("alt+shift+[ArrowLeft]")).toBe("Alt Shift ←");
  expect(keyWords("[Semicolon]")).toBe(";");
  expect(keyWords("ctrl+k ctrl+left")).toBe("Ctrl K, Ctrl ←");
  expect(keyWords("ctrl++")).toBe("Ctrl +");
  expect(keyWords("f12")).toBe("F12");
});
