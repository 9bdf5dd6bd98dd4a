// Which keys run a command now: those we ship, less those the user took away, and the user's own. VS Code offers no way
// to ask, but a user's changes stand in keybindings.json.

import { commands, keyText, type Command } from "../messages/commands";

interface Rule {
  readonly key: string;
  readonly command: string;
}

/** Keys by command as keybindings.json writes them, the one to show first; `user` is that file's content as read. */
export function boundKeys(user: unknown): ReadonlyMap<string, readonly string[]> {
  const rules = rulesOf(user);
  return new Map(
    commands.map((command) => {
      let keys = command.keys.map(keyText);
      for (const { key, command: id } of rules) {
        if (id === `-${command.id}`) keys = without(keys, key);
        if (id === command.id) keys = [key, ...without(keys, key)];
      }
      return [command.id, keys];
    }),
  );
}

/** Names of the keys that are not the ones we ship, by command; empty for a command left without a key. */
export function changedKeys(user: unknown): Record<string, string> {
  const bound = boundKeys(user);
  const changed = commands.flatMap((command): [string, string][] => {
    const [now] = bound.get(command.id) ?? [];
    return now === shipped(command) ? [] : [[command.id, now === undefined ? "" : keyWords(now)]];
  });
  return Object.fromEntries(changed);
}

/** A key in words: `shift+[KeyF]` is "Shift F". Positions are named by a US keyboard's letters. */
export function keyWords(key: string): string {
  return key
    .split(" ")
    .map((chord) =>
      chord
        .split(/\+(?=.)/)
        .map((part) => partWords(part))
        .join(" "),
    )
    .join(", ");
}

function shipped({ keys: [first] }: Command): string | undefined {
  return first === undefined ? undefined : keyText(first);
}

function rulesOf(user: unknown): Rule[] {
  if (!Array.isArray(user)) return [];
  return (user as readonly unknown[]).filter(
    (rule): rule is Rule =>
      typeof rule === "object" &&
      rule !== null &&
      "key" in rule &&
      "command" in rule &&
      typeof rule.key === "string" &&
      typeof rule.command === "string",
  );
}

/** VS Code may write a key that we give by position by its letter; on another keyboard that letter is another one, so
 * where a command has one key it is the one meant. */
function without(keys: readonly string[], key: string): string[] {
  const wanted = keyWords(key).toLowerCase();
  const left = keys.filter((one) => keyWords(one).toLowerCase() !== wanted);
  const [only] = keys;
  const byLetter = only !== undefined && keys.length === 1 && held(only) === held(key) && isOneSign(wanted);
  return byLetter ? [] : left;
}

/** The keys held down with it: "Ctrl Shift". */
function held(key: string): string {
  return keyWords(key).split(" ").slice(0, -1).join(" ");
}

function isOneSign(words: string): boolean {
  return /^.$/u.test(words.split(" ").at(-1) ?? "");
}

const names: Readonly<Record<string, string>> = {
  left: "←",
  right: "→",
  up: "↑",
  down: "↓",
  arrowleft: "←",
  arrowright: "→",
  arrowup: "↑",
  arrowdown: "↓",
  escape: "Esc",
  semicolon: ";",
  comma: ",",
  period: ".",
  slash: "/",
  backslash: "\\",
  bracketleft: "[",
  bracketright: "]",
  equal: "=",
  minus: "-",
  backquote: "`",
  quote: "'",
};

function partWords(part: string): string {
  const inner = /^\[(.+)\]$/.exec(part)?.[1] ?? part;
  const plain = inner.replace(/^(Key|Digit)(?=.$)/i, "");
  return names[plain.toLowerCase()] ?? plain.charAt(0).toUpperCase() + plain.slice(1);
}
