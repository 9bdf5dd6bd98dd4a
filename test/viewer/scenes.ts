// Small scenes for the tests of the viewer.

import type { Head, Item, Standing } from "../../src/messages/scene";

export const standing: Standing = {
  score: [0, 0],
  appeals: [2, 2],
  cards: [[], []],
  cost: ["", ""],
  period: 1,
  fenced: 0,
};

export const head: Head = {
  readable: true,
  editable: true,
  title: "Practice",
  weapon: "foil",
  mirrored: false,
  names: ["Vessa Tarn", "Kel Odrey"],
  offences: [],
  problems: [],
  before: standing,
  drift: [],
  poses: [],
  tracks: [],
  fits: [],
};

export function item(index: number, at: number, more: Partial<Item> = {}): Item {
  return {
    index,
    kind: "note",
    at,
    until: null,
    side: null,
    label: "",
    sentence: "",
    number: null,
    state: "plain",
    lamps: null,
    actions: [],
    star: false,
    unsure: false,
    after: standing,
    findings: [],
    fields: {},
    ...more,
  };
}

export function phrase(index: number, at: number, until: number | null, more: Partial<Item> = {}): Item {
  return item(index, at, { kind: "phrase", until, number: index + 1, state: "called", ...more });
}
