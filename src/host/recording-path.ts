// Which file a bout file's recording means, and which it may not mean.

import { failure, success, type Result } from "../bout/result";

/** Names that are devices on Windows, whatever their ending (Microsoft, "Naming Files, Paths, and Namespaces"). */
const devices =
  /^(con|prn|aux|nul|com[0-9\u00b9\u00b2\u00b3]|lpt[0-9\u00b9\u00b2\u00b3]|conin\$|conout\$)(\..*)?$/i;

/** The steps from the bout file's folder, `..` included; the failure is a sentence for the user. */
export function recordingSteps(file: string): Result<readonly string[], string> {
  const wanted = "a recording is named by a relative path with / between folders";
  if (file.trim() === "") return failure(`The recording has no file name; ${wanted}.`);
  if (file.includes("\0")) return failure(`This recording's name can't be a file's; ${wanted}.`);
  if (/^[a-z][a-z0-9+.-]+:/i.test(file))
    return failure(`"${file}" is an address; ${wanted}, for the file on this computer.`);
  if (/^[a-z]:/i.test(file) || /^[/\\]/.test(file))
    return failure(`"${file}" is an absolute path; ${wanted}, so that the folder can be moved or shared.`);
  if (file.includes("\\")) return failure(`"${file}" has a backslash in it; ${wanted}.`);
  const steps = file.split("/").filter((step) => step !== "" && step !== ".");
  const device = steps.find((step) => devices.test(step.trim()));
  if (device !== undefined) return failure(`"${device}" names a device, not a file; ${wanted}.`);
  const last = steps.at(-1);
  if (last === undefined || last === ".." || file.endsWith("/"))
    return failure(`"${file}" is a folder; ${wanted}.`);
  return success(steps);
}

/** Whether a path lies in one of these folders; both with `/`, resolved, links followed. */
export function liesInside(file: string, folders: readonly string[]): boolean {
  return folders.some((folder) => file.startsWith(folder.endsWith("/") ? folder : `${folder}/`));
}

/** The relative path from a folder to a file, with `/`; undefined where there is none, as between two drives. */
export function relativePath(folder: string, file: string): string | undefined {
  const from = folder.split("/").filter((step) => step !== "");
  const to = file.split("/").filter((step) => step !== "");
  const [drive] = from;
  if (drive?.endsWith(":") === true) {
    if (drive.toLowerCase() !== to[0]?.toLowerCase()) return undefined;
    to[0] = drive;
  }
  let shared = 0;
  while (shared < from.length && shared < to.length - 1 && from[shared] === to[shared]) shared++;
  return [...from.slice(shared).map(() => ".."), ...to.slice(shared)].join("/");
}
