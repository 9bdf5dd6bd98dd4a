// Who gets the keys? The viewer tells the editor when its keys are meant, tells the host of each key press with its
// frame, and keeps what is typed into a field away from the editor's keybindings.

import { commands, type Command } from "../messages/commands";
import type { KeyNames } from "./key-names";
import type { ReturnedKeys } from "./returned-keys";

export interface KeyboardEvents {
  focused(focused: boolean): void;
  /** A key of the viewer went down on the page. */
  pressed(): void;
  /** The key at this position went down for the editor to make a command of; one held down counts once. */
  pressedForCommand(code: string): void;
  /** A key went down of which it is known what the editor makes of it. */
  command(command: Command): void;
  /** A letter of the user's own keyboard was learned. */
  learned(): void;
  /** Escape on the page, which no command has. */
  escape(): void;
  /** Gives the keyboard to the picture. */
  toPicture(): void;
}

export function isTextField(target: EventTarget | null): boolean {
  return target instanceof HTMLElement && target.matches("input, select, textarea");
}

/** Buttons and the phrase line use some keys themselves while they have the keyboard focus. */
function usesKeys(target: EventTarget | null): boolean {
  return target instanceof HTMLElement && target.matches("button, summary, [role=slider]");
}

/** Keys that tag: held down, they must not tag again and again. */
const taggingKeys = new Set(
  commands.flatMap(({ does, keys }) =>
    "tag" in does ? keys.map(({ code, shift, alt, ctrl }) => presence(code, shift, alt, ctrl)) : [],
  ),
);
const scrolling = new Set(["Space", "ArrowUp", "ArrowDown", "ArrowLeft", "ArrowRight"]);

/** `placing`: whether points are being placed. */
export function listenToKeys(
  names: KeyNames,
  returned: ReturnedKeys,
  placing: () => boolean,
  events: KeyboardEvents,
): void {
  let reported: boolean | undefined;
  const report = () => {
    const active = document.activeElement;
    const focused = document.hasFocus() && !isTextField(active) && !usesKeys(active);
    if (focused === reported) return;
    reported = focused;
    events.focused(focused);
  };
  for (const name of ["focus", "blur"] as const) window.addEventListener(name, report);
  window.addEventListener("blur", () => {
    returned.forget();
  });
  // A button pressed with the pointer gives the keyboard back, so that Space plays and does not press it again.
  let pointed = false;
  window.addEventListener("pointerdown", () => (pointed = true), { capture: true });
  window.addEventListener("keydown", () => (pointed = false), { capture: true });
  document.addEventListener("focusin", report);
  document.addEventListener("focusout", () => {
    setTimeout(report);
  });
  report();

  window.addEventListener(
    "keydown",
    (event) => {
      if (isTextField(event.target)) return;
      events.pressed();
      if (
        event.repeat &&
        taggingKeys.has(presence(event.code, event.shiftKey, event.altKey, event.ctrlKey))
      ) {
        event.preventDefault();
        event.stopImmediatePropagation();
        return;
      }
      if (usesKeys(event.target)) return;
      const plain = !event.ctrlKey && !event.altKey && !event.metaKey && !event.shiftKey;
      if (plain && names.learn(event.code, event.key)) events.learned();
      const command = returned.take(event, placing(), performance.now());
      if (command !== undefined) {
        event.preventDefault();
        event.stopPropagation();
        events.command(command);
        return;
      }
      if (!event.repeat) events.pressedForCommand(event.code);
      if (plain && event.code === "Escape") events.escape();
      if (scrolling.has(event.code)) event.preventDefault();
    },
    { capture: true },
  );
  document.addEventListener("keydown", (event) => {
    if (isTextField(event.target)) {
      // Saving and the function keys are the editor's, everywhere.
      if (/^F\d+$/.test(event.key) || ((event.ctrlKey || event.metaKey) && event.key === "s")) return;
      event.stopPropagation();
    } else if (usesKeys(event.target)) {
      if (event.code === "Escape") events.toPicture();
      if (event.code === "Escape" || event.code === "Space" || event.code === "Enter")
        event.stopPropagation();
    }
  });
  document.addEventListener("click", (event) => {
    const button = event.target instanceof Element ? event.target.closest("button, summary") : null;
    if (button !== null && event.detail > 0) events.toPicture();
  });
  document.addEventListener("change", ({ target }) => {
    if (pointed && target instanceof HTMLElement && target.matches("select, input[type=checkbox]"))
      events.toPicture();
  });
}

/** Asks the browser for the letters of the user's keyboard; some don't tell. */
export async function askForLayout(names: KeyNames, learned: () => void): Promise<void> {
  const keyboard: unknown = Reflect.get(navigator, "keyboard");
  if (typeof keyboard !== "object" || keyboard === null || !("getLayoutMap" in keyboard)) return;
  try {
    const letters = await (
      keyboard as { getLayoutMap(): Promise<Iterable<readonly [string, string]>> }
    ).getLayoutMap();
    if (names.layout(letters)) learned();
  } catch {
    // Frames of another origin may be refused; letters are then learned from key presses.
  }
}

function presence(code: string, shift = false, alt = false, ctrl = false): string {
  return `${code} ${Number(shift)}${Number(alt)}${Number(ctrl)}`;
}
