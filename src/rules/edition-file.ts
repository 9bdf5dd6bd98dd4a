// A federation's own departures from a rule book, in a plain file that travels with the bouts: NAME.edition.json beside
// the bout files that write NAME as their rules. It names an edition to build on and says only what is different.

import { findNodeAtLocation, parseTree, printParseErrorCode, type Node, type ParseError } from "jsonc-parser";
import * as z from "zod";
import { explain, suggestion } from "../bout/explain";
import type { Bout } from "../bout/read";
import { failure, success, type Problem, type Result } from "../bout/result";
import { placer } from "../bout/scan";
import { extendEdition, type Edition } from "./edition";
import { editionChangesSchema, editionId } from "./edition-schema";
import { editions } from "./editions";

export interface EditionFile {
  /** Its name, without a folder. */
  readonly file: string;
  readonly text: string;
}

export const editionFileEnding = ".edition.json";
const currentVersion = 1;

export const editionFileSchema = editionChangesSchema
  .extend({
    $schema: z.string().optional().describe("Accepted and ignored."),
    boutlineEdition: z.literal(currentVersion).describe("Version of this format: 1."),
  })
  .describe("A rule edition of Boutline that builds on another.");

/** The name of the file that holds the bout's edition, to be looked for beside the bout file; undefined where Boutline
 * brings the edition, or its name can't be that of a file. */
export function editionFileOf({ about: { rules } }: Pick<Bout, "about">): string | undefined {
  return editions.has(rules) || rules.length > 60 || !editionId.test(rules)
    ? undefined
    : `${rules}${editionFileEnding}`;
}

/** The edition in the text of such a file, whole; or all that is wrong with it, with places in that text. */
export function readEdition(
  text: string,
  { file }: { readonly file: string },
): Result<Edition, readonly Problem[]> {
  const errors: ParseError[] = [];
  const readable = text.startsWith("\uFEFF") ? ` ${text.slice(1)}` : text;
  const tree = parseTree(readable, errors, { allowTrailingComma: true });
  const place = placer(text);
  const problem = (message: string, offset: number, length: number): Problem => ({
    rule: "edition-file",
    severity: "error",
    message,
    place: place(offset, length),
  });
  const [error] = errors;
  if (tree === undefined || error !== undefined)
    return failure([
      problem(
        error === undefined ? "this is no JSON" : `this is no JSON (${printParseErrorCode(error.error)})`,
        error?.offset ?? 0,
        error?.length ?? 0,
      ),
    ]);
  const at = (path: readonly PropertyKey[], message: string): Problem => {
    const node = nearestNode(tree, path);
    return problem(message, node.offset, path.length === 0 ? 1 : node.length);
  };
  const root: unknown = valueOf(tree);
  const problems = [
    ...unknownFields(editionFileSchema, root).map(({ path, names }) =>
      at(path, `"${String(path.at(-1))}" is no field of an edition; ${suggestion(path.at(-1), names)}`),
    ),
  ];
  const parsed = editionFileSchema.safeParse(root);
  if (!parsed.success)
    return failure([
      ...problems,
      ...parsed.error.issues.map((issue) => at(issue.path, explain(issue, root))),
    ]);
  const { boutlineEdition: _, $schema: __, ...changes } = parsed.data;
  const base = editions.get(changes.extends);
  if (base === undefined)
    problems.push(
      at(
        ["extends"],
        `no edition is named "${changes.extends}"; ${suggestion(changes.extends, [...editions.keys()])}`,
      ),
    );
  if (`${changes.id}${editionFileEnding}` !== file)
    problems.push(
      at(
        ["id"],
        `the id of an edition is the name of its file: "${file.slice(0, -editionFileEnding.length)}"`,
      ),
    );
  const names = new Set<string>();
  const offences = (changes.offences ?? []).map((offence) => ({
    ...offence,
    name: offence.name.trim().toLowerCase(),
  }));
  offences.forEach(({ name }, index) => {
    if (names.has(name)) problems.push(at(["offences", index, "name"], `the offence "${name}" stands twice`));
    names.add(name);
  });
  if (problems.length > 0 || base === undefined) return failure(problems);
  return success(extendEdition(base, changes.offences === undefined ? changes : { ...changes, offences }));
}

/** Fields the schema does not know, which would otherwise be passed over without a word. */
function unknownFields(
  schema: z.core.$ZodType,
  value: unknown,
  path: readonly PropertyKey[] = [],
): { path: readonly PropertyKey[]; names: readonly string[] }[] {
  const { def } = schema as z.ZodType & {
    def: { shape?: Record<string, z.core.$ZodType>; innerType?: z.core.$ZodType; element?: z.core.$ZodType };
  };
  if (def.innerType !== undefined) return unknownFields(def.innerType, value, path);
  if (def.element !== undefined && Array.isArray(value)) {
    const { element } = def;
    return value.flatMap((item, index) => unknownFields(element, item, [...path, index]));
  }
  if (def.shape === undefined || typeof value !== "object" || value === null || Array.isArray(value))
    return [];
  const { shape } = def;
  return Object.entries(value).flatMap(([name, field]) => {
    const known = Object.hasOwn(shape, name) ? shape[name] : undefined;
    return known === undefined
      ? [{ path: [...path, name], names: Object.keys(shape) }]
      : unknownFields(known, field, [...path, name]);
  });
}

/** `fromEntries` defines fields, so that one named `__proto__` stays a field. */
function valueOf(node: Node): unknown {
  if (node.type === "array") return (node.children ?? []).map(valueOf);
  if (node.type !== "object") return node.value as unknown;
  return Object.fromEntries(
    (node.children ?? []).map(({ children = [] }) => {
      const [key, value] = children;
      return [String(key?.value), value === undefined ? undefined : valueOf(value)];
    }),
  );
}

function nearestNode(tree: Node, path: readonly PropertyKey[]): Node {
  for (let length = path.length; length > 0; length--) {
    const node = findNodeAtLocation(tree, path.slice(0, length) as (string | number)[]);
    if (node !== undefined) return node;
  }
  return tree;
}
