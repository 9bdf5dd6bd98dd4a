// HTML and SVG as values that can't be mistaken for text: whatever is put into a template is escaped unless it is
// markup itself. A name such as `<script>` in a bout file therefore stays a name.

/** Well-formed HTML or SVG. */
export class Markup {
  readonly text: string;
  constructor(text: string) {
    this.text = text;
  }
}

/** What a template takes. Text and numbers are escaped; undefined and false leave nothing. */
export type Content = Markup | string | number | undefined | false | readonly Content[];

/** Builds markup from a template. Values may stand between tags and inside quoted attributes. */
export function markup(strings: TemplateStringsArray, ...values: readonly Content[]): Markup {
  let text = strings[0] ?? "";
  for (let index = 0; index < values.length; index++)
    text += textOf(values[index]) + (strings[index + 1] ?? "");
  return new Markup(text);
}

export function escaped(text: string): string {
  return special.test(text)
    ? text.replace(/[&<>"']/g, (character) => entities[character] ?? character)
    : text;
}
const special = /[&<>"']/;
const entities: Readonly<Record<string, string>> = {
  "&": "&amp;",
  "<": "&lt;",
  ">": "&gt;",
  '"': "&quot;",
  "'": "&#39;",
};

function textOf(value: Content): string {
  if (value instanceof Markup) return value.text;
  if (typeof value === "string") return escaped(value);
  if (typeof value === "number") return String(value);
  if (value === undefined || value === false) return "";
  let text = "";
  for (const one of value) text += textOf(one);
  return text;
}
