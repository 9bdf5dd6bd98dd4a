// What a verb of the command is: words in, an exit status and what to print out.

import { parseArgs, type ParseArgsConfig } from "node:util";

/** 0 done, nothing to report; 1 done, with findings of severity error or warning; 2 unusable input or options. */
export type Status = 0 | 1 | 2;

/** Where a verb writes. It prints nothing to `out` before it is sure of its status. */
export interface Streams {
  readonly out: (text: string) => void;
  readonly errors: (text: string) => void;
}

export interface Verb {
  /** Shown by `--help`, with the verb's options. */
  readonly help: string;
  readonly run: (words: readonly string[], streams: Streams) => Promise<Status>;
}

/** The name of an `Unusable`: verbs are built into files of their own, each with its own copy of that class. */
export const unusable = "Unusable";

/** Options a user wrote wrongly, or input that can't be used; said on the error stream, exit status 2. */
export class Unusable extends Error {
  override readonly name = unusable;
}

export interface NumberRange {
  readonly least: number;
  readonly most: number;
  /** Decimals are taken unless true. */
  readonly whole?: boolean;
}

/** The number written after `--option`; undefined where the option is not given. Throws `Unusable`. */
export function numberOf(
  option: string,
  written: string | undefined,
  { least, most, whole = false }: NumberRange,
): number | undefined {
  if (written === undefined) return undefined;
  const number = (whole ? /^\d+$/ : /^\d+(\.\d+)?$/).test(written) ? Number(written) : NaN;
  if (number >= least && number <= most) return number;
  throw new Unusable(`--${option} takes a ${whole ? "whole " : ""}number from ${least} to ${most}`);
}

type Options = NonNullable<ParseArgsConfig["options"]>;

/** Options and files of a verb. Throws `Unusable` for an option that is not one. */
export function wordsOf<O extends Options>(words: readonly string[], options: O) {
  try {
    return parseArgs({ args: [...words], options, allowPositionals: true, strict: true });
  } catch (error) {
    if (error instanceof TypeError && "code" in error && String(error.code).startsWith("ERR_PARSE_ARGS"))
      throw new Unusable(error.message.split(". ")[0] ?? error.message);
    throw error;
  }
}
