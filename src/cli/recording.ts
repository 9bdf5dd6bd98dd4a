// Where the recording lies that a bout file names.

import path from "node:path";
import { failure, success, type Result } from "../bout/result";

/** The way to it from here; the failure says what is wrong with the name, and follows the bout file's name. */
export function recordingBeside(boutFile: string, named: string): Result<string, string> {
  if (named.includes("\\") || path.isAbsolute(named) || /^[a-z][a-z0-9+.-]*:/i.test(named))
    return failure(`"${named}" is not a relative path with / between folders`);
  return success(path.join(path.dirname(boutFile), named));
}
