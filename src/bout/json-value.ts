// JSON values: written as one line of text, changed at a place, compared.

export type Json = string | number | boolean | null | readonly Json[] | { readonly [key: string]: Json };

/** An entry as one line of text: `{ "kind": "note", "at": "0:00:01.000" }`. */
export function entryText(value: Json): string {
  if (Array.isArray(value)) return `[${(value as readonly Json[]).map(entryText).join(", ")}]`;
  if (typeof value === "object" && value !== null) {
    const fields = Object.entries(value as { readonly [key: string]: Json | undefined }).flatMap(
      ([key, field]) => (field === undefined ? [] : [`${JSON.stringify(key)}: ${entryText(field)}`]),
    );
    return fields.length === 0 ? "{}" : `{ ${fields.join(", ")} }`;
  }
  return JSON.stringify(value);
}

export function withField(
  value: unknown,
  [key, ...rest]: readonly (string | number)[],
  field: Json | undefined,
): unknown {
  if (key === undefined) return plain(field);
  if (typeof key === "number") {
    const list = Array.isArray(value) ? [...(value as unknown[])] : [];
    if (field === undefined && rest.length === 0) list.splice(key, 1);
    else list[key] = withField(list[key], rest, field);
    return list;
  }
  const record: Record<string, unknown> = isRecord(value) ? { ...value } : {};
  if (field === undefined) {
    if (!Object.hasOwn(record, key)) return record;
    if (rest.length > 0) return { ...record, [key]: withField(record[key], rest, field) };
    const { [key]: _, ...others } = record;
    return others;
  }
  return { ...record, [key]: withField(record[key], rest, field) };
}

export function plain(value: unknown): unknown {
  return value === undefined ? undefined : (JSON.parse(JSON.stringify(value)) as unknown);
}

/** Equal as JSON values; the order of fields does not matter. */
export function same(one: unknown, other: unknown): boolean {
  if (one === other) return true;
  if (Array.isArray(one))
    return (
      Array.isArray(other) &&
      one.length === other.length &&
      one.every((item, index) => same(item, other[index]))
    );
  if (!isRecord(one) || !isRecord(other)) return false;
  const keys = Object.keys(one);
  return (
    keys.length === Object.keys(other).length &&
    keys.every((key) => Object.hasOwn(other, key) && same(one[key], other[key]))
  );
}

export function isRecord(value: unknown): value is Record<string, unknown> {
  return typeof value === "object" && value !== null && !Array.isArray(value);
}
