// Wheelchair fencing, 2026: FIE Technical Rules of August 2026 wherever the wheelchair rules change nothing. The body
// and the penalty table of the international wheelchair rule book could not be read, so what is taken from national
// texts and digests is marked unverified: open the current Book 1 before relying on it.

import type { EditionChanges } from "../edition";

const nationalText = "read in a national text; the international penalty table could not be read";
const noText = "as in the FIE book; no wheelchair text was found";

const noVideoText = "no wheelchair text on video reviews was found";

const overview = "IWAS Wheelchair Fencing, overview page";
const gamesPages = "Tokyo 2020 sport page; USA Fencing, Parafencing 101";
const frenchDigest = "digest of the French wheelchair rules; IWF Book 1 contents";
const swedishRules = "Swedish wheelchair épée rules";

export const wheelchair2026: EditionChanges = {
  id: "wheelchair-2026",
  title: "Wheelchair fencing, 2026 (FIE August 2026 where nothing differs)",
  source: "FIE Technical Rules, August 2026; national wheelchair rule texts",
  extends: "fie-2026",
  from: {
    value: "2026-08-01",
    source: "FIE Technical Rules, August 2026, title",
    unverified: "taken from the FIE edition it builds on",
  },
  seated: { value: true, source: overview },
  formats: {
    pool: {
      touches: { value: 5, source: overview },
      periodSeconds: { value: 180, source: gamesPages },
      extraSeconds: { value: 60, source: gamesPages },
      appeals: { value: 1, source: "FIE t.61.1", unverified: noText },
    },
    elimination: {
      touches: { value: 15, source: overview },
      periods: { value: 3, source: gamesPages },
      periodSeconds: { value: 180, source: gamesPages },
      restSeconds: {
        value: 60,
        source: "Canadian Paralympic Committee, sport page",
        unverified: "digest only",
      },
      extraSeconds: { value: 60, source: gamesPages },
      sabreBreak: { value: 8, source: "FIE t.39.1", unverified: noText },
      appeals: { value: 2, source: "FIE t.61.1", unverified: noText },
    },
    veterans: {
      sabreBreak: { value: 5, source: "FIE t.42", unverified: noText },
      appeals: { value: 2, source: "FIE t.61.1", unverified: noText },
    },
  },
  offences: [
    {
      name: "early start",
      group: 1,
      annuls: true,
      source: `${frenchDigest} t.24`,
      unverified: nationalText,
    },
    {
      name: "lifting from the seat",
      group: 1,
      annuls: true,
      source: "IWF Book 1 contents t.25-26; IWAS overview page",
      unverified: "group and annulment from memory",
    },
    {
      name: "foot off the footrest",
      group: 1,
      annuls: true,
      source: `${swedishRules} 2B`,
      unverified: nationalText,
    },
    {
      name: "changing the sitting position",
      group: 1,
      annuls: false,
      source: `${swedishRules} 2`,
      unverified: nationalText,
    },
    {
      name: "hand leaving the grip",
      group: 1,
      annuls: true,
      source: `${swedishRules} 1; IWF Book 1 contents t.16`,
      unverified: nationalText,
    },
    {
      name: "chair not conforming",
      group: 1,
      annuls: false,
      source: "French wheelchair rules A/1",
      unverified: nationalText,
    },
    {
      name: "changing the distance",
      group: 1,
      annuls: false,
      source: frenchDigest,
      unverified: "group from memory",
    },
    {
      name: "blade position on guard",
      number: "1.13",
      group: 1,
      annuls: false,
      source: `${frenchDigest} t.17`,
      unverified: "an order of the referee comes first; group from memory",
    },
    {
      name: "apron covering too much",
      group: 1,
      annuls: false,
      weapons: ["epee"],
      source: "British Disability Fencing, refereeing page",
      unverified: "group from memory, as equipment",
    },
  ],
  unwillingness: {
    steps: ["P-red", "P-black"],
    seconds: 60,
    formats: ["elimination", "veterans"],
    neverWhenOneTouchDecides: true,
    source: "FIE t.124",
    unverified: "whether wheelchair fencing applies it was not found",
  },
  reviews: {
    atLevelScore: { value: true, source: "FIE t.62.3", unverified: noVideoText },
    onceForAnAction: { value: true, source: "FIE t.62.5", unverified: noVideoText },
  },
  breaks: {
    medicalSeconds: {
      value: 300,
      source: "FIE t.45",
      unverified: "the wheelchair text on breaks for a disability could not be read",
    },
    chairRepairSeconds: {
      value: 600,
      source: "IWF Book 1 contents t.28; a textbook chapter on wheelchair fencing",
      unverified: "digest only",
    },
  },
};
