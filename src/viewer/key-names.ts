// What is printed on a key? Commands go by the position of a key; the letter shown is that of the user's own keyboard
// where it can be known.

import type { Command, Key } from "../messages/commands";

const named: Readonly<Record<string, string>> = {
  Space: "Space",
  Enter: "Enter",
  Escape: "Esc",
  Backspace: "Backspace",
  Delete: "Delete",
  ArrowLeft: "←",
  ArrowRight: "→",
  ArrowUp: "↑",
  ArrowDown: "↓",
  Semicolon: ";",
  Comma: ",",
  Period: ".",
  Slash: "/",
  Backslash: "\\",
  BracketLeft: "[",
  BracketRight: "]",
  Equal: "=",
  Minus: "-",
  Backquote: "`",
  Quote: "'",
};
/** Keys whose name is the same on every keyboard. */
const fixed = /^(Arrow|Space|Enter|Escape|Backspace|Delete|Digit)/;

/** Letters by position. */
export type Letters = ReadonlyMap<string, string>;

/** The name on the keycap of a position; on a US keyboard where the letters don't tell. */
export function keycap(code: string, letters: Letters): string {
  const local = fixed.test(code) ? undefined : letters.get(code);
  if (local !== undefined) return local.toUpperCase();
  return named[code] ?? code.replace(/^(Key|Digit)/, "");
}

export function keyName(key: Key, letters: Letters): string {
  return [
    key.ctrl === true ? "Ctrl" : "",
    key.alt === true ? "Alt" : "",
    key.shift === true ? "Shift" : "",
    keycap(key.code, letters),
  ]
    .filter((part) => part !== "")
    .join(" ");
}

/** Names of the keys that run commands, kept up to date by the keyboard's layout, key presses and the host. */
export class KeyNames {
  readonly #letters = new Map<string, string>();
  #bound: Readonly<Record<string, string>> = {};

  /** The key of a command; empty where it has none. A key the user has bound differs from the one we ship and wins. */
  of(command: Command): string {
    const [first] = command.keys;
    const bound = this.#bound[command.id];
    const shipped = first === undefined ? "" : keyName(first, new Map());
    if (bound !== undefined && bound.replaceAll("+", " ") !== shipped) return bound;
    return first === undefined ? "" : keyName(first, this.#letters);
  }

  /** Takes the names the host knows. */
  bind(bound: Readonly<Record<string, string>>): void {
    this.#bound = bound;
  }

  /** Takes the keyboard's own layout. True where something new was learned. */
  layout(letters: Iterable<readonly [string, string]>): boolean {
    let news = false;
    for (const [code, letter] of letters) news = this.learn(code, letter) || news;
    return news;
  }

  /** Learns a letter from a plain key press. True where it is new. */
  learn(code: string, letter: string): boolean {
    if (!/^[^ ]$/u.test(letter) || fixed.test(code) || this.#letters.get(code) === letter) return false;
    this.#letters.set(code, letter);
    return true;
  }
}
