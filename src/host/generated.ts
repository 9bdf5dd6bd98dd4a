// The parts of what ships that follow from the tables: the JSON Schemas VS Code checks bout files and rule editions with,
// and the commands, keys and palette entries of the manifest. `npm run schema` writes them.

import * as z from "zod";
import { boutFileSchema } from "../bout/schema";
import { shapesText } from "../bout/shape";
import { timePattern } from "../bout/time";
import { actions, actionWords, stopReasons } from "../bout/words";
import { planFileSchema } from "../figures/brief/written-plan";
import { picksFileSchema } from "../figures/saved-picks";
import { commands, contributions, type Command } from "../messages/commands";
import { editionId } from "../rules/edition-schema";
import { editionFileSchema } from "../rules/edition-file";
import { editions } from "../rules/editions";

/** The JSON Schema of bout files (draft 7, with VS Code's own `allow…` and `patternErrorMessage`). */
export function boutFileJsonSchema(): object {
  const schema = jsonSchemaOf(boutFileSchema);
  const about = schema.properties?.["bout"];
  const rules = typeof about === "object" ? about.properties?.["rules"] : undefined;
  if (typeof rules !== "object") throw new Error("the schema has no bout.rules");
  rules.examples = [...editions.keys()];
  return { ...schema, title: "Bout file of Boutline", allowComments: true, allowTrailingCommas: true };
}

/** The JSON Schema of rule editions in a file of their own. */
export function editionFileJsonSchema(): object {
  const schema = jsonSchemaOf(editionFileSchema);
  const base = schema.properties?.["extends"];
  if (typeof base !== "object") throw new Error("the schema has no extends");
  base.enum = [...editions.keys()];
  return { ...schema, title: "Rule edition of Boutline", allowComments: true, allowTrailingCommas: true };
}

/** The JSON Schema of saved picks. */
export function picksFileJsonSchema(): object {
  const schema = z.toJSONSchema(picksFileSchema, { io: "input", target: "draft-7" });
  return { ...schema, title: "Saved picks of Boutline" };
}

export { shapesText };

/** The JSON Schema of plans. */
export function planFileJsonSchema(): object {
  const schema = z.toJSONSchema(planFileSchema, { io: "input", target: "draft-7" });
  return { ...schema, title: "Plan of Boutline" };
}

export function planSchemaText(): string {
  return `${JSON.stringify(planFileJsonSchema(), undefined, 1)}\n`;
}

export function picksSchemaText(): string {
  return `${JSON.stringify(picksFileJsonSchema(), undefined, 1)}\n`;
}

function jsonSchemaOf(ofFile: z.ZodType) {
  return z.toJSONSchema(ofFile, {
    io: "input",
    target: "draft-7",
    override: ({ jsonSchema }) => {
      // A field Boutline doesn't know is kept and not used, so it gets a squiggle.
      if (jsonSchema.type === "object") jsonSchema.additionalProperties = false;
      if (jsonSchema.pattern === timePattern.source)
        jsonSchema["patternErrorMessage"] = "A time is written h:mm:ss.mmm, for example 0:04:12.480.";
      else if (jsonSchema.pattern === editionId.source)
        jsonSchema["patternErrorMessage"] =
          "A name in small letters, digits and hyphens, for example harbour-2026.";
      else if (jsonSchema.pattern !== undefined)
        jsonSchema["patternErrorMessage"] = "A date is written YYYY-MM-DD.";
      // Bounds of every whole number of the language say nothing to a coach.
      if (jsonSchema.maximum === Number.MAX_SAFE_INTEGER) delete jsonSchema.maximum;
      leaveToUs(jsonSchema);
    },
  });
}

interface Values {
  enum?: unknown[];
  pattern?: string;
  [more: string]: unknown;
}

/** Words of which Boutline itself offers those that fit the bout. A list of values would make VS Code offer all of them
 * beside ours; a pattern refuses the same mistakes and offers nothing. */
function leaveToUs(schema: Values): void {
  const mistake = own.get(JSON.stringify(schema.enum));
  if (mistake === undefined || schema.enum === undefined) return;
  schema.pattern = `^(${schema.enum.join("|")})$`;
  schema["patternErrorMessage"] = mistake;
  delete schema.enum;
}
const own: ReadonlyMap<string, string> = new Map([
  [
    JSON.stringify(actionWords),
    `An action is written with who did it: left, right or both, then ${actions.join(", ")}.`,
  ],
  [JSON.stringify(stopReasons), `A reason is one of ${stopReasons.join(", ")}.`],
]);

const icons: Readonly<Record<string, string>> = {
  "boutline.openViewer": "$(device-camera-video)",
  "boutline.openText": "$(code)",
  "boutline.showSheet": "$(graph)",
  "boutline.briefOnFencer": "$(book)",
  "boutline.showKeys": "$(keyboard)",
  "boutline.newBout": "$(add)",
  "boutline.groupBouts": "$(list-tree)",
  "boutline.filterBouts": "$(filter)",
  "boutline.showAllBouts": "$(clear-all)",
  "boutline.findRecording": "$(search)",
  "boutline.compareBouts": "$(git-compare)",
  "boutline.sameId": "$(person-add)",
  "boutline.dismissSuggestion": "$(close)",
  "boutline.readBoutsAgain": "$(refresh)",
};

const viewerActive = "activeCustomEditorId == 'boutline.viewer'";
const boutFileActive = "resourceFilename =~ /\\.bout\\.json$/";

/** When the command palette offers a host's own command; the others speak of a viewer. */
const palette: Readonly<Record<string, string>> = {
  openDemo: "true",
  newBout: "true",
  showKeys: "true",
  openViewer: `${boutFileActive} && !(${viewerActive})`,
  openText: viewerActive,
  showEntry: `${boutFileActive} && editorTextFocus`,
  showSheet: `${boutFileActive} || ${viewerActive}`,
  choosePhrases: viewerActive,
  savePick: viewerActive,
  openPick: viewerActive,
  cutClips: viewerActive,
  makeReel: viewerActive,
  // These are run on a row of the view.
  compareBouts: "false",
  sameId: "false",
  dismissSuggestion: "false",
  showAllBouts: "boutline.boutsFiltered",
};

/** `commands`, `keybindings` and the palette's `menus` entry of the manifest. */
export function generatedContributions(): {
  readonly commands: readonly object[];
  readonly keybindings: readonly object[];
  readonly commandPalette: readonly object[];
} {
  const { commands: offered, keybindings } = contributions();
  return {
    commands: offered.map((command) => {
      const icon = icons[command.command];
      return icon === undefined ? command : { ...command, icon };
    }),
    keybindings,
    commandPalette: commands.flatMap((command) => {
      const when = paletteWhen(command);
      return when === "true" ? [] : [{ command: command.id, when }];
    }),
  };
}

function paletteWhen({ does }: Command): string {
  return "host" in does ? (palette[does.host] ?? "true") : viewerActive;
}

/** The manifest's text with its generated parts brought up to date. */
export function currentManifest(text: string): string {
  const manifest = JSON.parse(text) as {
    contributes: { menus: Record<string, unknown> } & Record<string, unknown>;
  };
  const { commands: offered, keybindings, commandPalette } = generatedContributions();
  const { menus } = manifest.contributes;
  const contributes = {
    ...manifest.contributes,
    commands: offered,
    keybindings,
    menus: { ...menus, commandPalette },
  };
  return `${JSON.stringify({ ...manifest, contributes }, undefined, 2)}\n`;
}

/** The text of media/bout.schema.json. */
export function schemaText(): string {
  return `${JSON.stringify(boutFileJsonSchema(), undefined, 2)}\n`;
}

/** The text of media/edition.schema.json. */
export function editionSchemaText(): string {
  return `${JSON.stringify(editionFileJsonSchema(), undefined, 2)}\n`;
}
