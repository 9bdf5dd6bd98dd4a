// Changing what stands before the log (recordings, fencers) by the smallest edit to the text. As with entries, the result
// is read again and compared with what was meant.

import { parseTree } from "jsonc-parser";
import type { NotEdited } from "./edit";
import { fieldEdits, type FieldChange } from "./field-text";
import { same, withField } from "./json-value";
import { failure, success, type Result } from "./result";
import { scanBout, type Scan } from "./scan";
import { applyEdits, type TextEdit } from "./text-edit";

export interface EditedHead {
  /** In rising order, not overlapping. */
  readonly edits: readonly TextEdit[];
  /** The text after them, scanned. */
  readonly scan: Scan;
}

/** Works out the edits that set these fields, named from the root: `["recordings", 0, "file"]`. The places they go into
 * must be there. Nothing is applied. */
export function editHead(scan: Scan, fields: readonly FieldChange[]): Result<EditedHead, NotEdited> {
  if (scan.broken || scan.log === undefined)
    return failure({
      why: "not-editable",
      message: "The file has mistakes that must be put right in its text first; nothing was changed.",
    });
  const text = withoutMark(scan.text);
  const edits = fields
    .flatMap((field) => fieldEdits(text, field, ""))
    .sort((one, other) => one.offset - other.offset);
  const meant = fields.reduce((root, { path, value }) => withField(root, path, value), scan.root);
  const after = scanBout(applyEdits(scan.text, edits));
  const isSafe = fields.every(({ path }) => path[0] !== "log" && isThere(text, path.slice(0, -1)));
  if (!isSafe || after.broken || !same(meant, after.root))
    return failure({
      why: "not-as-meant",
      message: "This change could not be made safely at that place of the text; nothing was changed.",
    });
  return success({ edits, scan: after });
}

function isThere(text: string, path: readonly (string | number)[]): boolean {
  let node = parseTree(text, [], { allowTrailingComma: true });
  for (const key of path)
    node =
      typeof key === "number"
        ? node?.children?.[key]
        : node?.children?.findLast((child) => child.children?.[0]?.value === key)?.children?.[1];
  return node !== undefined;
}

/** The mark at the start of some files is no JSON; a space in its place keeps all other places. */
function withoutMark(text: string): string {
  return text.startsWith("\uFEFF") ? ` ${text.slice(1)}` : text;
}
