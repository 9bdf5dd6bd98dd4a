import { describe, expect, test } from "vitest";
import { commands, type Command, type Key } from "../../src/messages/commands";
import { ReturnedKeys, type Press } from "../../src/viewer/returned-keys";

const press = (code: string, held: Partial<Press> = {}): Press => ({
  code,
  shiftKey: false,
  ctrlKey: false,
  altKey: false,
  metaKey: false,
  ...held,
});
const pressOf = ({ code, shift, alt, ctrl }: Key) =>
  press(code, { shiftKey: shift ?? false, altKey: alt ?? false, ctrlKey: ctrl ?? false });

/** Milliseconds after which a key that hasn't come back isn't waited for any more. */
const later = 600;

describe("keys the page acts on by itself", () => {
  test("a key goes to the editor first and is known once it has come back", () => {
    const keys = new ReturnedKeys();
    expect(keys.take(press("KeyF"), false, 0)).toBeUndefined();
    expect(keys.take(press("KeyF"), false, 1)).toBeUndefined();
    keys.returned("boutline.attack.left", "KeyF");
    expect(keys.take(press("KeyF"), false, 2)?.id).toBe("boutline.attack.left");
    expect(keys.take(press("KeyF"), true, 3)).toBeUndefined();
    expect(keys.take(press("KeyF", { shiftKey: true }), false, later)).toBeUndefined();
  });

  test("every shipped key without Ctrl, Alt or Escape can be learned, in its mode and in no other", () => {
    for (const command of commands)
      for (const key of command.keys) {
        const keys = new ReturnedKeys();
        const own = command.mode === "placing";
        keys.take(pressOf(key), own, 0);
        keys.returned(command.id, key.code);
        const known = (placing: boolean): Command | undefined => keys.take(pressOf(key), placing, later * 2);
        const learnt = key.alt !== true && key.ctrl !== true && key.code !== "Escape" ? command : undefined;
        expect(known(own)).toBe(learnt);
        expect(new Set([learnt, undefined])).toContain(known(!own));
        if (command.mode !== "any") expect(known(!own)).toBeUndefined();
      }
  });

  test("a key that runs another command than ours, or none, stays the editor's", () => {
    const keys = new ReturnedKeys();
    keys.take(press("KeyF"), false, 0);
    expect(keys.take(press("KeyF"), false, later)).toBeUndefined();
    keys.returned("boutline.nothing", "KeyF");
    expect(keys.take(press("KeyF"), false, 2 * later)).toBeUndefined();
  });

  test("a key the user has put another command on is not taken for the shipped one", () => {
    const keys = new ReturnedKeys();
    // The user's own rule for Q repeats our arguments for F, or F is on a command we ship it elsewhere for.
    keys.take(press("KeyQ"), false, 0);
    keys.returned("boutline.attack.left", "KeyF");
    expect(keys.take(press("KeyQ"), false, later)).toBeUndefined();
    keys.returned("boutline.attack.left", "KeyQ");
    expect(keys.take(press("KeyQ"), false, 2 * later)).toBeUndefined();
  });

  test("no key overtakes one that is still on its way round", () => {
    const keys = new ReturnedKeys();
    keys.take(press("KeyF"), false, 0);
    keys.returned("boutline.attack.left", "KeyF");
    expect(keys.take(press("KeyJ"), false, 10)).toBeUndefined();
    expect(keys.take(press("KeyF"), false, 20)).toBeUndefined();
    keys.returned("boutline.attack.right", "KeyJ");
    // The newest of them is still away.
    expect(keys.take(press("KeyF"), false, 30)).toBeUndefined();
    keys.returned("boutline.attack.left", "KeyF");
    expect(keys.take(press("KeyF"), false, 40)?.id).toBe("boutline.attack.left");
  });

  test("the second half of a key chord is the editor's", () => {
    const keys = new ReturnedKeys();
    keys.take(press("KeyF"), false, 0);
    keys.returned("boutline.attack.left", "KeyF");
    keys.take(press("ControlLeft", { ctrlKey: true }), false, 10);
    expect(keys.take(press("KeyK", { ctrlKey: true }), false, 20)).toBeUndefined();
    expect(keys.take(press("ShiftLeft", { shiftKey: true }), false, later)).toBeUndefined();
    expect(keys.take(press("KeyF"), false, later)).toBeUndefined();
    keys.returned("boutline.attack.left", "KeyF");
    expect(keys.take(press("KeyF"), false, 2 * later)?.id).toBe("boutline.attack.left");
  });

  test("nothing is known any more once the page has lost the keyboard", () => {
    const keys = new ReturnedKeys();
    keys.take(press("KeyF"), false, 0);
    keys.returned("boutline.attack.left", "KeyF");
    keys.forget();
    expect(keys.take(press("KeyF"), false, later)).toBeUndefined();
  });
});
