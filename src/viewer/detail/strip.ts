// The detail strip: a form for the entry under the playhead. Each changed field is one message, one edit, one undo.

import type { Head, Item } from "../../messages/scene";
import { element, fill, setText } from "../dom";
import { sameItem } from "../held-scene";
import { fieldControl, type FieldControl } from "./controls";
import {
  entryFields,
  fault,
  shotNames,
  targets,
  typedValue,
  type EntryField,
  type FieldValue,
} from "./entry-fields";

export interface StripEvents {
  changed(item: Item, field: string, value: FieldValue): void;
  remove(item: Item): void;
  /** A line about something typed that can't be. */
  fault(message: string): void;
  /** The cursor may go back to the picture. */
  leave(): void;
}

export class Strip {
  readonly element = element("section", { class: "strip", "aria-label": "The entry under the playhead" });
  readonly #events: StripEvents;
  readonly #form = element("div", { class: "fields" });
  readonly #title = element("h2");
  readonly #ticks = element("div", { class: "ticks" });
  readonly #remove = element("button", { type: "button", class: "remove" }, "delete entry");
  readonly #offences = element("datalist", { id: "offences" });
  #item: Item | undefined;
  #head: Head | undefined;
  #shape = "";
  #scrolledFrom: number | undefined;
  #controls: readonly FieldControl[] = [];
  #wanted: { readonly index: number; readonly field: string; readonly since: number } | undefined;

  constructor(events: StripEvents) {
    this.#events = events;
    const list = (id: string, words: readonly string[]) =>
      element("datalist", { id }, ...words.map((value) => element("option", { value })));
    this.element.append(
      element("div", { class: "strip-head" }, this.#title, this.#ticks, this.#remove),
      this.#form,
      this.#offences,
      list("targets", targets),
      list("shots", shotNames),
    );
    this.#remove.addEventListener("click", () => {
      if (this.#item !== undefined) this.#events.remove(this.#item);
    });
  }

  /** Shows the entry in hand, or keeps to the one being written. */
  show(head: Head, items: readonly Item[], inHand: Item | undefined): void {
    const writing = this.element.contains(document.activeElement) ? this.#item : undefined;
    const kept = writing === undefined ? undefined : sameItem(items, writing);
    this.#showItem(head, kept ?? inHand);
    const wanted = this.#wanted;
    if (wanted === undefined) return;
    const item = items.find(({ index }) => index === wanted.index);
    if (performance.now() - wanted.since > 3000) this.#wanted = undefined;
    else if (item !== undefined && entryFields(item.kind).some(({ name }) => name === wanted.field)) {
      this.#wanted = undefined;
      this.#showItem(head, item);
      this.#focus(wanted.field);
    }
  }

  /** Puts the cursor into a field of an entry, as soon as the entry is there. */
  write(index: number, field: string): void {
    this.#wanted = { index, field, since: performance.now() };
  }

  #focus(name: string): void {
    const control = this.#controls.find(({ field }) => field.name === name)?.inputs[0];
    control?.focus({ preventScroll: true });
    if (control instanceof HTMLInputElement && control.type === "text") control.select();
    this.#scrolledFrom ??= this.element.closest("#viewer")?.scrollTop;
    control?.scrollIntoView({ block: "nearest" });
  }

  /** Goes back to what was in sight before a key put the cursor here. */
  #scrollBack(): void {
    const before = this.#scrolledFrom;
    this.#scrolledFrom = undefined;
    if (before !== undefined) this.element.closest("#viewer")?.scrollTo({ top: before });
  }

  #showItem(head: Head, item: Item | undefined): void {
    const shape = `${item?.kind ?? ""} ${head.names.join(" ")} ${head.mirrored} ${head.editable}`;
    if (head.offences !== this.#head?.offences)
      fill(this.#offences, ...head.offences.map(({ name }) => element("option", { value: name })));
    this.#head = head;
    this.#item = item;
    setText(this.#title, title(item));
    this.#remove.hidden = item === undefined || !head.editable;
    if (shape !== this.#shape) {
      this.#shape = shape;
      this.#build(item, head);
    }
    if (item !== undefined) for (const control of this.#controls) control.show(item);
  }

  #build(item: Item | undefined, head: Head): void {
    const events = {
      commit: (field: EntryField, control: HTMLElement, typed: string) => this.#commit(field, control, typed),
      leave: () => {
        this.#events.leave();
        this.#scrollBack();
      },
    };
    const fields = item === undefined ? [] : entryFields(item.kind);
    this.#controls = fields.map((field) => fieldControl(field, head, events));
    const isTick = ({ field }: FieldControl): boolean => field.takes.as === "tick";
    fill(this.#form, ...this.#controls.filter((one) => !isTick(one)).map(({ place }) => place));
    fill(this.#ticks, ...this.#controls.filter(isTick).map(({ place }) => place));
    for (const { inputs } of this.#controls) for (const input of inputs) input.disabled = !head.editable;
  }

  #commit(field: EntryField, control: HTMLElement, typed: string): boolean {
    const item = this.#item;
    const value = typedValue(field.takes, typed);
    const wrong = value === undefined || (value === null && cannotGo(item, field));
    control.setAttribute("aria-invalid", String(wrong));
    if (item === undefined) return false;
    if (wrong) {
      this.#events.fault(value === null ? `${field.words}: this can't be left out` : fault(field));
      return false;
    }
    this.#events.changed(item, field.name, value);
    return true;
  }
}

function title(item: Item | undefined): string {
  if (item === undefined) return "no entry yet";
  return item.number === null ? item.kind : `phrase ${item.number}`;
}

/** Fields without which an entry can't be read. */
function cannotGo(item: Item | undefined, { name, takes }: EntryField): boolean {
  return (
    name === "at" ||
    name === "start" ||
    (name === "score" && takes.as === "pair") ||
    (item?.kind === "stop" && name === "for") ||
    (item?.kind === "shot" && name === "name")
  );
}
