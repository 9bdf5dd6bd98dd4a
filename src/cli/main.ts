// The command `boutline`: which verb is meant, its help, and the exit status.

import { readFileSync } from "node:fs";
import path from "node:path";
import { plain } from "./lines";
import { unusable, type Status, type Streams, type Verb } from "./verb";

const verbs: Readonly<Record<string, { readonly says: string; readonly load: () => Promise<Verb> }>> = {
  sheet: {
    says: "the figures of a bout",
    load: async () => (await import("./sheet")).sheet,
  },
  brief: {
    says: "what many bouts say of one fencer",
    load: async () => (await import("./brief")).brief,
  },
  drift: {
    says: "which way the platforms went, and by how much",
    load: async () => (await import("./drift")).drift,
  },
  check: {
    says: "what in bout files contradicts itself or the rules",
    load: async () => (await import("./check")).check,
  },
  clips: {
    says: "picked phrases cut out of their recordings",
    load: async () => (await import("./clips")).clips,
  },
  probe: {
    says: "what is in a recording, and whether it plays",
    load: async () => (await import("./probe")).probe,
  },
  prepare: {
    says: "viewing copies of recordings, made ahead",
    load: async () => (await import("./prepare")).prepare,
  },
  seminar: {
    says: "a seminar pack: clips with the call hidden, to be answered in a browser",
    load: async () => (await import("./seminar")).seminar,
  },
  reference: {
    says: "the answers of a panel, as what counts as right for a seminar pack",
    load: async () => (await import("./reference")).reference,
  },
  agree: {
    says: "how far the readers of a seminar pack agree",
    load: async () => (await import("./agree")).agree,
  },
  export: {
    says: "bouts as CSV, JSON Lines, Parquet or subtitles",
    load: async () => (await import("./export")).exportVerb,
  },
  query: {
    says: "a question in SQL about the phrases of many bouts",
    load: async () => (await import("./query")).query,
  },
};

const help = `boutline VERB FILE... [OPTIONS]

${Object.entries(verbs)
  .map(([name, { says }]) => `  ${name.padEnd(10)}${says}`)
  .join("\n")}

  boutline VERB --help   what a verb takes
  boutline --version     the version of Boutline

Exit status: 0 done, nothing to report; 1 done, with errors or warnings found;
2 unusable input or options.
`;

async function main(words: readonly string[], streams: Streams): Promise<Status> {
  const [name, ...rest] = words;
  if (name === "--help" || name === "-h" || name === "help") {
    streams.out(help);
    return 0;
  }
  if (name === "--version" || name === "-v") {
    streams.out(`${version()}\n`);
    return 0;
  }
  if (name === undefined) {
    streams.errors(help);
    return 2;
  }
  const known = Object.hasOwn(verbs, name) ? verbs[name] : undefined;
  if (known === undefined) {
    streams.errors(
      plain(
        `boutline: there is no verb "${name}"; the verbs are ${Object.keys(verbs).join(", ")}. See boutline --help.`,
      ) + "\n",
    );
    return 2;
  }
  const verb = await known.load();
  if (rest.includes("--help") || rest.includes("-h")) {
    streams.out(verb.help);
    return 0;
  }
  try {
    return await verb.run(rest, streams);
  } catch (error) {
    if (!(error instanceof Error) || error.name !== unusable) throw error;
    streams.errors(plain(`boutline ${name}: ${error.message}. See boutline ${name} --help.`) + "\n");
    return 2;
  }
}

/** The package's version: its package.json lies beside the folder this file is built into. */
function version(): string {
  const text = readFileSync(path.join(__dirname, "..", "package.json"), "utf8");
  return (JSON.parse(text) as { readonly version: string }).version;
}

// A reader that has seen enough, such as `head`, closes the pipe; that is no error.
for (const stream of [process.stdout, process.stderr])
  stream.on("error", (error: NodeJS.ErrnoException) => {
    if (error.code !== "EPIPE") throw error;
  });

void main(process.argv.slice(2), {
  out: (text) => process.stdout.write(text),
  errors: (text) => process.stderr.write(text),
}).then((status) => {
  process.exitCode = status;
});
