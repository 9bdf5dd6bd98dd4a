// Reading keys and answers of a seminar pack, which come back by mail from many hands: what can't be trusted is refused
// with its reason, and everything else is kept.

import type { $ZodIssue } from "zod/v4/core";
import { failure, success, type Result } from "../bout/result";
import { answersSchema, checkOf, keySchema, type SeminarAnswers, type SeminarKey } from "./seminar-format";

export interface SeminarProblem {
  readonly rule:
    | "not-json"
    | "not-a-key"
    | "not-answers"
    | "later-version"
    | "bad-name"
    | "another-pack"
    | "changed-by-hand"
    | "unknown-clip"
    | "duplicate-reader"
    | "role-answers"
    | "no-role";
  readonly message: string;
}

/** A key.json by its text. */
export function readKey(text: string): Result<SeminarKey, SeminarProblem> {
  const read = parsed(text, "key", "a seminar pack's key");
  if (!read.ok) return read;
  const key = keySchema.safeParse(read.value);
  if (!key.success)
    return failure({
      rule: "not-a-key",
      message: `This is not a seminar pack's key that can be read: ${worst(key.error.issues)}.`,
    });
  return success(key.data);
}

/** One answers file by its text, whatever the pack. An edited one is refused. */
export function readAnswers(text: string): Result<SeminarAnswers, SeminarProblem> {
  const read = parsed(text, "answers", "answers to a seminar pack");
  if (!read.ok) return read;
  const answers = answersSchema.safeParse(read.value);
  if (!answers.success) {
    const [issue] = answers.error.issues;
    const field = issue?.path.length === 1 ? issue.path[0] : undefined;
    if (field === "reader" || field === "role")
      return failure({ rule: "bad-name", message: `The ${field} can't be taken: ${issue?.message ?? ""}.` });
    return failure({
      rule: "not-answers",
      message: `These are not answers to a seminar pack that can be read: ${worst(answers.error.issues)}.`,
    });
  }
  if (answers.data.check !== checkOf(answers.data))
    return failure({
      rule: "changed-by-hand",
      message: `The answers of ${answers.data.reader} were changed after the page saved them. Ask for the file as it was saved.`,
    });
  return success(answers.data);
}

export interface AnswersFile {
  readonly name: string;
  readonly text: string;
}

export interface RefusedAnswers {
  readonly name: string;
  readonly problem: SeminarProblem;
}

/**
 * The readers' answers to the key's pack. One reader may answer once each way; a second file of the same reader and way
 * is refused, both named, since nobody can tell which one counts. The rest is read all the same.
 */
export function readersOf(
  key: SeminarKey,
  files: readonly AnswersFile[],
): { readonly answers: readonly SeminarAnswers[]; readonly refused: readonly RefusedAnswers[] } {
  return collected(key, files, "reader");
}

/** The same for a reference round: one file a role. */
export function rolesOf(
  key: SeminarKey,
  files: readonly AnswersFile[],
): { readonly answers: readonly SeminarAnswers[]; readonly refused: readonly RefusedAnswers[] } {
  return collected(key, files, "role");
}

function collected(key: SeminarKey, files: readonly AnswersFile[], who: "reader" | "role") {
  const answers: SeminarAnswers[] = [];
  const refused: RefusedAnswers[] = [];
  const firstFile = new Map<string, string>();
  for (const { name, text } of files) {
    const read = readAnswers(text);
    const problem = read.ok ? misfit(key, read.value, who) : read.problem;
    if (!read.ok || problem !== undefined) {
      if (problem !== undefined) refused.push({ name, problem });
      continue;
    }
    const person = personOf(read.value, who);
    const before = firstFile.get(person);
    if (before === undefined) {
      firstFile.set(person, name);
      answers.push(read.value);
    } else
      refused.push({
        name,
        problem: {
          rule: "duplicate-reader",
          message: `${read.value.role ?? read.value.reader} has already answered in ${before}; leave one of the two files out.`,
        },
      });
  }
  return { answers, refused };
}

function misfit(
  key: SeminarKey,
  answers: SeminarAnswers,
  who: "reader" | "role",
): SeminarProblem | undefined {
  if (answers.pack !== key.pack)
    return {
      rule: "another-pack",
      message: `These answers of ${answers.reader} are to another pack (${answers.pack.slice(0, 8)}), not to "${key.title}" (${key.pack.slice(0, 8)}).`,
    };
  if (who === "reader" && answers.role !== undefined)
    return {
      rule: "role-answers",
      message: `These are the answers of the role "${answers.role}" for the reference, not a reader's.`,
    };
  if (who === "role" && answers.role === undefined)
    return {
      rule: "no-role",
      message: `These answers of ${answers.reader} name no role; a reference is given on the page in its reference round.`,
    };
  const clips = new Set(key.clips.map(({ id }) => id));
  const stranger = answers.items.find(({ clip }) => !clips.has(clip));
  return stranger === undefined
    ? undefined
    : { rule: "unknown-clip", message: `They answer a clip the key does not have (${stranger.clip}).` };
}

/** Names are compared as people do: case, accents' spelling and doubled blanks make no other person. */
function personOf({ reader, role, way }: SeminarAnswers, who: "reader" | "role"): string {
  const same = (name: string) => name.normalize("NFKC").trim().replaceAll(/\s+/g, " ").toLowerCase();
  return who === "role" ? same(role ?? "") : `${way}\n${same(reader)}`;
}

function parsed(text: string, version: "key" | "answers", what: string): Result<unknown, SeminarProblem> {
  let value: unknown;
  try {
    value = JSON.parse(text.replace(/^\uFEFF/, ""));
  } catch {
    return failure({ rule: "not-json", message: `This is not ${what}: its text is no JSON.` });
  }
  const written =
    typeof value === "object" && value !== null ? (value as Record<string, unknown>)[version] : undefined;
  if (typeof written === "number" && written > 1)
    return failure({
      rule: "later-version",
      message: `It was written by a later version of Boutline (${version} ${written}); bring Boutline up to date.`,
    });
  return success(value);
}

function worst(issues: readonly $ZodIssue[]): string {
  const [issue] = issues;
  if (issue === undefined) return "it does not have the shape it should have";
  const place = issue.path.map(String).join(".");
  return `${place === "" ? "" : `${place}: `}${issue.message}`.replace(/\.$/, "");
}
