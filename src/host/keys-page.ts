// The help page: every command with what it does and the key it is on now, as Markdown.

import { commands, type Command, type Group } from "../messages/commands";
import { keyWords } from "./bound-keys";

const groups: readonly { readonly group: Group; readonly says: string }[] = [
  { group: "phrase", says: "Each key speaks of the last phrase begun at or before the frame on screen." },
  {
    group: "commits",
    says: "The left hand has the fencer on the left of the screen, the right hand the one on the right; with Shift both. The first press writes the action named here, each further press the next one of its family.",
  },
  { group: "answers", says: "Like the actions above." },
  { group: "lamps", says: "A lamp stands on the side of the fencer who hit. Pressed again it goes out." },
  {
    group: "referee gives",
    says: "Pressed again, an award is taken back. At épée both sides may get a touch.",
  },
  {
    group: "reviews, cards, stops",
    says: "Pressed again within two seconds of the entry, the key goes on to the next colour, result or reason.",
  },
  { group: "picture", says: "" },
  { group: "placing points", says: "" },
  { group: "log entries", says: "" },
  { group: "picked phrases", says: "For looking at some phrases only, and for training clips." },
  { group: "files and pages", says: "From the command palette (F1), under Boutline." },
];

/** `bound`: keys by command, as `boundKeys` gives them. */
export function keysPage(bound: ReadonlyMap<string, readonly string[]>): string {
  const parts = groups.map(({ group, says }) => {
    const rows = commands
      .filter((command) => command.group === group)
      .map((command) => `| ${cell(command.title)} | ${keysOf(command, bound)} |`);
    return [
      `## ${heading(group)}`,
      "",
      ...(says === "" ? [] : [says, ""]),
      "| What | Key |",
      "| --- | --- |",
      ...rows,
    ].join("\n");
  });
  return `${introduction}\n\n${parts.join("\n\n")}\n`;
}

const introduction = `# Keys and commands of Boutline

The keys work while the viewer has the focus, and not while you type in one of its fields. They go by their position on
the keyboard; this page names them by the letters of a US keyboard, the viewer's buttons by those of yours.

To change a key, open *Preferences: Open Keyboard Shortcuts* from the command palette and search for \`boutline\`.`;

function keysOf({ id }: Command, bound: ReadonlyMap<string, readonly string[]>): string {
  return (bound.get(id) ?? []).map((key) => cell(`\`\` ${keyWords(key)} \`\``)).join(" or ");
}

function cell(text: string): string {
  return text.replaceAll("|", "\\|");
}

function heading(group: Group): string {
  return group.charAt(0).toUpperCase() + group.slice(1);
}
