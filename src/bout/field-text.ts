// The text of one entry when a field is set or taken away.

import { parseTree, type Node } from "jsonc-parser";
import { entryText, type Json } from "./json-value";
import { commaAfter } from "./line-text";
import { fieldOrder } from "./schema";
import type { TextEdit } from "./text-edit";

/** Sets the value at a path inside an entry; undefined takes it away. A list is replaced whole, or gets one more item
 * where the path ends in its length. */
export interface FieldChange {
  readonly path: readonly (string | number)[];
  readonly value: Json | undefined;
}

/** Edits to the text of an entry that set or take away one field. */
export function fieldEdits(source: string, { path, value }: FieldChange, kind: string): TextEdit[] {
  const tree = parseTree(source, [], { allowTrailingComma: true });
  if (tree === undefined) return [];
  const node = findLast(tree, path);
  if (node !== undefined) {
    if (value === undefined) return removal(source, node);
    return [{ offset: node.offset, length: node.length, text: entryText(value) }];
  }
  if (value === undefined) return [];
  const key = path[path.length - 1];
  const parentPath = path.slice(0, -1);
  const parent = findLast(tree, parentPath);
  if (parent === undefined) {
    // The parent is missing too: set it with this field inside.
    const inner: Json = typeof key === "number" ? [value] : { [String(key)]: value };
    return fieldEdits(source, { path: parentPath, value: inner }, kind);
  }
  const children = parent.children ?? [];
  const text = typeof key === "number" ? entryText(value) : `${JSON.stringify(key)}: ${entryText(value)}`;
  const isObject = parent.type === "object";
  if ((typeof key === "number") === isObject || (!isObject && parent.type !== "array")) {
    const inner: Json = typeof key === "number" ? [value] : { [String(key)]: value };
    return [{ offset: parent.offset, length: parent.length, text: entryText(inner) }];
  }
  if (children.length === 0) {
    const inside = source.slice(parent.offset + 1, parent.offset + parent.length - 1);
    if (inside.trim() === "")
      return [{ offset: parent.offset, length: parent.length, text: isObject ? `{ ${text} }` : `[${text}]` }];
    return [{ offset: parent.offset + 1, length: 0, text: isObject ? ` ${text}` : text }];
  }
  const after = isObject
    ? lastBefore(children, String(key), parentPath.length === 0 ? fieldOrder(kind) : [])
    : children[children.length - 1];
  if (after === undefined) {
    const first = children[0];
    return first === undefined ? [] : [{ offset: first.offset, length: 0, text: `${text}, ` }];
  }
  return [{ offset: after.offset + after.length, length: 0, text: `, ${text}` }];
}

/** Like `findNodeAtLocation`, but of two equal keys the last one, which is the one that counts. */
function findLast(tree: Node, path: readonly (string | number)[]): Node | undefined {
  let node: Node | undefined = tree;
  for (const key of path) {
    if (node === undefined) return undefined;
    if (typeof key === "number") node = node.type === "array" ? node.children?.[key] : undefined;
    else {
      const property: Node | undefined =
        node.type === "object"
          ? node.children?.findLast((child) => child.children?.[0]?.value === key)
          : undefined;
      node = property?.children?.[1];
    }
  }
  return node;
}

/** The property after which a new one goes: the last that comes before it in the order fields are written in. */
function lastBefore(properties: readonly Node[], key: string, order: readonly string[]): Node | undefined {
  const rank = order.indexOf(key);
  if (rank === -1) return properties[properties.length - 1];
  return properties.findLast((property) => {
    const other = order.indexOf(String(property.children?.[0]?.value));
    return other !== -1 && other < rank;
  });
}

function removal(source: string, value: Node): TextEdit[] {
  const item = value.parent?.type === "property" ? value.parent : value;
  const parent = item.parent;
  if (parent === undefined) return [];
  const siblings = parent.children ?? [];
  const index = siblings.indexOf(item);
  const previous = siblings[index - 1];
  const next = siblings[index + 1];
  const end = item.offset + item.length;
  if (previous !== undefined) {
    const from = previous.offset + previous.length;
    if (/^\s*,\s*$/.test(source.slice(from, item.offset)))
      return [{ offset: from, length: end - from, text: "" }];
    const comma = commaAfter(source, from, item.offset);
    return [
      ...(comma === undefined ? [] : [{ offset: comma, length: 1, text: "" }]),
      { offset: item.offset, length: item.length, text: "" },
    ];
  }
  if (next !== undefined) {
    if (/^\s*,\s*$/.test(source.slice(end, next.offset)))
      return [{ offset: item.offset, length: next.offset - item.offset, text: "" }];
    const comma = commaAfter(source, end, next.offset);
    return [
      { offset: item.offset, length: item.length, text: "" },
      ...(comma === undefined ? [] : [{ offset: comma, length: 1, text: "" }]),
    ];
  }
  const inside = source.slice(parent.offset + 1, parent.offset + parent.length - 1);
  if (inside.replace(source.slice(item.offset, end), "").trim() === "")
    return [{ offset: parent.offset + 1, length: inside.length, text: "" }];
  const comma = commaAfter(source, end, parent.offset + parent.length - 1);
  return [
    { offset: item.offset, length: item.length, text: "" },
    ...(comma === undefined ? [] : [{ offset: comma, length: 1, text: "" }]),
  ];
}
