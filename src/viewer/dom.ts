// Builds elements of the page: `element("button", { class: "key" }, "attack")`.

export type Child = Node | string | undefined | false;
type Attributes = Readonly<Record<string, string | number | boolean | undefined>>;

/** An element with attributes and children. True writes an empty attribute; false and undefined leave it out. */
export function element<Name extends keyof HTMLElementTagNameMap>(
  name: Name,
  attributes: Attributes = {},
  ...children: readonly Child[]
): HTMLElementTagNameMap[Name] {
  const made = document.createElement(name);
  setAttributes(made, attributes);
  append(made, children);
  return made;
}

/** The same for a drawing. */
export function drawn<Name extends keyof SVGElementTagNameMap>(
  name: Name,
  attributes: Attributes = {},
  ...children: readonly Child[]
): SVGElementTagNameMap[Name] {
  const made = document.createElementNS("http://www.w3.org/2000/svg", name);
  setAttributes(made, attributes);
  append(made, children);
  return made;
}

/** Replaces the children of an element. */
export function fill(parent: Element, ...children: readonly Child[]): void {
  parent.replaceChildren();
  append(parent, children);
}

/** Sets text only where it differs, so that a screen reader isn't made to read the same again. */
export function setText(target: Element, text: string): void {
  if (target.textContent !== text) target.textContent = text;
}

/** Writes an attribute only where it differs: the page is shown anew with every frame, and assistive programs are told of
 * every writing. */
export function setAttribute(target: Element, name: string, value: string): void {
  if (target.getAttribute(name) !== value) target.setAttribute(name, value);
}

/** The same for the choice of a list. */
export function setChoice(target: HTMLSelectElement, value: string): void {
  if (target.value !== value) target.value = value;
}

export function setAttributes(target: Element, attributes: Attributes): void {
  for (const [name, value] of Object.entries(attributes)) {
    if (value === undefined || value === false) target.removeAttribute(name);
    else setAttribute(target, name, value === true ? "" : String(value));
  }
}

function append(parent: Element, children: readonly Child[]): void {
  for (const child of children) if (child !== undefined && child !== false) parent.append(child);
}
