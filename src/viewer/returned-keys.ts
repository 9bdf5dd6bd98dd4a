// Which keys the page may act on by itself. A key goes round through the editor first, whose keybindings are the user's;
// what it came back as is remembered, so that the next press of it need not make that way. All is forgotten when the page
// loses the keyboard: keybindings can't be changed while it has it.

import { commandById, type Command } from "../messages/commands";

/** What of a `KeyboardEvent` says which keys went down. */
export interface Press {
  readonly code: string;
  readonly shiftKey: boolean;
  readonly ctrlKey: boolean;
  readonly altKey: boolean;
  readonly metaKey: boolean;
}

/** A key that hasn't come back by then runs no command of ours. Milliseconds. */
const returnsWithin = 500;

export class ReturnedKeys {
  /** Key and mode -> the command it came back as. */
  readonly #known = new Map<string, Command>();
  /** The last press that went to the editor, and when; milliseconds. */
  #away: { readonly press: Press; readonly since: number } | undefined;
  #afterChord = false;

  /** The command this press stands for; undefined where the editor has to say, which is then counted on to be asked.
   * `now` is in milliseconds of any steady clock. */
  take(press: Press, placing: boolean, now: number): Command | undefined {
    if (isModifier(press.code)) return undefined;
    // The first half of a key chord of the editor's: the next key is its second half.
    const second = this.#afterChord;
    this.#afterChord = isChord(press);
    const overtakes = this.#away !== undefined && now - this.#away.since < returnsWithin;
    const known = second || overtakes || isChord(press) ? undefined : this.#known.get(nameOf(press, placing));
    this.#away = known === undefined ? { press, since: now } : undefined;
    return known;
  }

  /** The editor made this command of the key at this position. */
  returned(id: string, code: string): void {
    const press = this.#away?.press;
    if (press?.code !== code) return;
    this.#away = undefined;
    const command = commandById(id);
    // Escape means too much to be kept from the editor.
    if (command === undefined || code === "Escape" || isChord(press)) return;
    const { keys, mode } = command;
    if (!keys.some((key) => key.code === code && (key.shift ?? false) === press.shiftKey)) return;
    for (const placing of [false, true])
      if (mode === "any" || (mode === "placing") === placing)
        this.#known.set(nameOf(press, placing), command);
  }

  forget(): void {
    this.#known.clear();
    this.#away = undefined;
    this.#afterChord = false;
  }
}

function isChord({ ctrlKey, altKey, metaKey }: Press): boolean {
  return ctrlKey || altKey || metaKey;
}

function isModifier(code: string): boolean {
  return /^(Shift|Control|Alt|Meta|OS|Fn)/.test(code) || code === "CapsLock";
}

function nameOf({ code, shiftKey }: Press, placing: boolean): string {
  return `${code} ${Number(shiftKey)}${Number(placing)}`;
}
