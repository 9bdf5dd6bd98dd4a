import { describe, expect, test } from "vitest";
import { unreadablePage, studyPage } from "../../src/pages";
import { at, boutWith, demo, figuresOf, pageOf, phrases, sideCells, sideRow, textOf } from "./sheets";
import { fault } from "./well-formed";

const leftAttack = { actions: ["left attack"], lamps: { left: "valid" }, award: "left" };
const rightRiposte = {
  actions: ["left attack", "right parry", "right riposte"],
  lamps: { right: "valid" },
  award: "right",
};
const noTouch = { actions: ["left attack"], lamps: {}, award: "none" };

describe("the study sheet of the demo bout", () => {
  const study = demo();
  const page = pageOf(study);
  const { sheet, evidence } = figuresOf(study);

  test("is well-formed markup", () => {
    expect(fault(page)).toBeUndefined();
  });

  test("tells who fenced, how it ended and on what the figures rest", () => {
    const text = textOf(page);
    expect(text).toContain("Foil, category B, quarter-final (demo)");
    expect(text).toContain("Harbour Open · quarter-final · 17 October 2026");
    expect(text).toContain("Vessa Tarn left · Low Quay · right-handed · seed 3 12 to 15 Kel Odrey");
    expect(text).toContain("Kel Odrey (right) won by touches.");
    expect(text).toContain("Phrases with an action tagged: 42 of 42 100 % 92 to 100 %");
  });

  test("gives a rate as x of n, percentage and limits, as hand arithmetic has them", () => {
    // 6 of 26: 0.2308; Wilson 0.1103 to 0.4205, by the formula of Wilson (1927) worked with a calculator.
    expect(sideRow(page, "Attempts that scored", "attack").left).toBe("6 of 26 23 % 11 to 42 %");
  });

  test("plays exactly the entries behind each figure", () => {
    const { left } = sideCells(page, "Attempts that scored", "attack");
    const attempt = evidence.sides.left.attempts.get("attack");
    expect(attempt?.all).toHaveLength(26);
    expect([...left.matchAll(/data-entries="([^"]*)"/g)].map(([, entries]) => entries)).toEqual([
      attempt?.scored.join(","),
      attempt?.all.join(","),
    ]);
  });

  test("names every button of the text once, so that an edit can find it again", () => {
    const keys = [...page.matchAll(/<button [^>]*data-key="([^"]*)"/g)].map(([, key]) => key);
    expect(keys.length).toBeGreaterThan(100);
    expect(new Set(keys).size).toBe(keys.length);
  });

  test("names what plays without a full stop, since the line over the picture goes on after it", () => {
    const titles = [...page.matchAll(/data-title="([^"]*)"/g)].map(([, title]) => title);
    expect(titles).toContain(
      "Kel Odrey beat Vessa Tarn 15 to 12, in 42 phrases and 0:54 of fencing; all of them tagged with actions",
    );
    expect(titles.filter((title) => title?.endsWith("."))).toEqual([]);
  });

  test("says which way the platforms drift, how far, and how sure that is", () => {
    const { drift } = sheet;
    expect(drift?.towards).toBe("right");
    expect(textOf(page)).toContain(
      "The platforms drift towards the right end, 2.1 cm a phrase (limits 1.5 cm to 2.7 cm)",
    );
    expect(textOf(page)).toContain(
      `${drift?.signTest.right ?? ""} to the right, ${drift?.signTest.left ?? ""} to the left`,
    );
  });

  test("tells every move of the platforms, with its error and the phrases fenced meanwhile", () => {
    const rows =
      /<summary>Every move<\/summary>.*?<tbody>(.*?)<\/tbody>/s.exec(page)?.[1]?.split("<tr>").slice(1) ?? [];
    expect(rows).toHaveLength(sheet.drift?.steps.length ?? 0);
    for (const [index, { from, to, phrases }] of (sheet.drift?.steps ?? []).entries()) {
      const entries =
        /data-entries="([^"]*)"/
          .exec(rows[index] ?? "")?.[1]
          ?.split(",")
          .map(Number) ?? [];
      expect(entries).toHaveLength(phrases);
      expect(entries.every((entry) => entry > from && entry < to && evidence.phrases.includes(entry))).toBe(
        true,
      );
    }
  });

  test("lists what in the file contradicts the evidence, with a button to see it", () => {
    const [finding] = sheet.findings;
    expect(finding?.rule).toBe("board-disagrees");
    expect(page).toContain(`data-entries="${finding?.entry ?? ""}" data-title="board, board-disagrees"`);
    expect(textOf(page)).toContain(finding?.message);
  });

  test("ends with the cautions", () => {
    const text = textOf(page);
    expect(text).toContain("no official result");
    expect(text).toContain("consent to record people");
    expect(text).toContain("health data");
    expect(text).toContain("medical staff and licensed officials");
  });

  test("has one top heading, no level left out, and a description of every chart", () => {
    const levels = [...page.matchAll(/<h([1-6])/g)].map(([, level]) => Number(level));
    expect(levels.filter((level) => level === 1)).toHaveLength(1);
    expect(levels.every((level, index) => level <= (levels[index - 1] ?? 0) + 1)).toBe(true);
    const charts = [...page.matchAll(/<svg class="chart[^>]*>/g)].map(([svg]) => svg);
    expect(charts.length).toBeGreaterThanOrEqual(4);
    for (const svg of charts) expect(svg).toMatch(/role="img" aria-label="[^"]{80,}"/);
    for (const [cell] of page.matchAll(/<th\b[^>]*>/g)) expect(cell).toContain("scope=");
  });

  test("uses the colours of lamps nowhere", () => {
    expect(page).not.toMatch(/(?:fill|stroke|style|color)="/);
  });
});

describe("what stands on the page comes from the figures", () => {
  test("so that other figures make another page", () => {
    const study = demo();
    const { sheet, evidence } = figuresOf(study);
    const { left } = sheet.sides;
    const rate = { count: 701, of: 1103, value: 0.6356, low: 0.6071, high: 0.6632, entries: [7] };
    const page = pageOf(study, {
      evidence,
      sheet: {
        ...sheet,
        score: [211, 223],
        winner: null,
        phrases: 1999,
        fencingSeconds: 3723,
        tagged: { ...rate, count: 1801, of: 1999 },
        sides: {
          ...sheet.sides,
          left: {
            touches: 307,
            penaltyTouches: 311,
            unseenTouches: 313,
            correctedTouches: -317,
            touchesByAction: { riposte: 331, untagged: 337 },
            attempts: { riposte: rate },
            opened: { phrases: 401, for: 409, against: 419, nothing: 421 },
            touchesPerPhrase: { ...rate, count: 503 },
            touchesPerMinute: { count: 509, minutes: 62.05, value: 8.2, low: 7.5, high: 9, entries: [7] },
            appeals: { asked: 601, granted: 607, left: 613, success: { ...rate, count: 607, of: 617 } },
            cards: { yellow: 619, red: 631, black: 641, "P-red": 643 },
          },
        },
        bothLamps: { left: 809, right: 811, neither: 821, both: 823 },
        reviews: { byOfficials: { asked: 827, changed: 829, decided: 839 } },
        drift: null,
        findings: [
          {
            rule: "made-up",
            severity: "note",
            line: 907,
            column: 911,
            message: "look here",
            source: "t.1",
            page: "made-up.md",
          },
        ],
      },
    });
    const text = textOf(page);
    expect(text).toContain("211 to 223");
    expect(text).toContain("Ended by touches; no winner is known.");
    expect(text).toContain("Phrases 1999");
    expect(text).toContain("Fencing time 1:02:03");
    expect(text).toContain("1801 of 1999");
    expect(sideRow(page, "Touches", "touches in phrases").left).toBe("307");
    expect(sideRow(page, "Touches", "penalty touches").left).toBe("311");
    expect(sideRow(page, "Touches", "touches not recorded").left).toBe("313");
    expect(sideRow(page, "Touches", "set by the officials").left).toBe("−317");
    expect(sideRow(page, "Touches by action", "riposte").left).toBe("331");
    expect(sideRow(page, "Touches by action", "action not tagged").left).toBe("337");
    expect(sideRow(page, "Attempts that scored", "riposte").left).toBe("701 of 1103 64 % 61 to 66 %");
    expect(sideRow(page, "Attempts that scored", "attack").left).toBe("not used");
    expect(sideRow(page, "Pace", "touches per phrase").left).toContain("503 of 1103");
    expect(sideRow(page, "Pace", "touches per minute").left).toBe("509 in 1:02:03 8.2 7.5 to 9.0");
    expect(sideRow(page, "Video appeals", "left at the end").left).toBe("613");
    expect(text).toContain("line 907, column 911");
    // Right's figures were left alone.
    expect(left.touches).toBe(11);
    expect(sideRow(page, "Touches", "touches in phrases").right).toBe("14");
  });
});

describe("a drift that can't be told", () => {
  const study = demo();
  const { sheet, evidence } = figuresOf(study);
  const { drift } = sheet;
  if (drift === null) throw new Error("the demo bout has drift");
  const answer = (changed: Partial<typeof drift>) => {
    const page = pageOf(study, { evidence, sheet: { ...sheet, drift: { ...drift, ...changed } } });
    return textOf(/<p class="answer">(.*?)<\/p>/s.exec(page)?.[1] ?? "");
  };

  test("is said so, with the phrases it was looked for in and all that fits", () => {
    expect(answer({ towards: null, alongPerPhrase: { value: 0.004, low: -0.012, high: 0.02 } })).toBe(
      "Which way the platforms drift can't be told from 41 phrases: anything from 1.2 cm towards the left end to 2.0 cm towards the right end a phrase fits.",
    );
  });

  test("is said so where there are too few steps, with what is missing", () => {
    const [step] = drift.steps;
    if (step === undefined) throw new Error("the demo bout has steps");
    const note = "3 steps with phrases are needed; there is 1";
    expect(answer({ towards: null, note, alongPerPhrase: null, steps: [{ ...step, phrases: 1 }] })).toBe(
      `Which way the platforms drift can't be told from 1 phrase: ${note}.`,
    );
  });

  test("towards the left end has its limits in size", () => {
    expect(answer({ towards: "left", alongPerPhrase: { value: -0.03, low: -0.04, high: -0.02 } })).toBe(
      "The platforms drift towards the left end, 3.0 cm a phrase (limits 2.0 cm to 4.0 cm), from 41 phrases.",
    );
  });
});

describe("small numbers", () => {
  test("get no percentage below five, but still a bar that shows how little they say", () => {
    const study = boutWith([...phrases(1, leftAttack), ...phrases(3, noTouch, 1)]);
    const { left } = sideCells(pageOf(study), "Attempts that scored", "attack");
    expect(textOf(left)).toBe("1 of 4 too few for a percentage");
    expect(left).toContain('class="range"');
    expect(left).not.toContain('class="point"');
  });

  test("get a percentage from five on", () => {
    const study = boutWith([...phrases(1, leftAttack), ...phrases(4, noTouch, 1)]);
    // Wilson 1 of 5: 0.0362 to 0.6245.
    expect(sideRow(pageOf(study), "Attempts that scored", "attack").left).toBe("1 of 5 20 % 4 to 62 %");
  });
});

describe("text from the file", () => {
  const hostile = `<script>alert("1")</script>' onclick='x & </svg>`;
  const study = boutWith(
    [
      ...phrases(3, { ...leftAttack, note: hostile, tags: [hostile] }),
      { kind: "card", at: at(31), to: "right", card: "red", for: hostile },
      { kind: "correction", at: at(32), score: [9, 9], for: hostile },
      { kind: "board", at: at(33), score: [1, 1], clock: hostile },
      { kind: "board", at: at(33), score: [1, 1], clock: hostile },
    ],
    {
      bout: { title: hostile, event: hostile, round: hostile, rules: hostile },
      left: { name: hostile, club: hostile },
      right: { name: hostile },
      more: { tagged: { by: hostile, on: hostile } },
    },
  );

  test("stays text, whatever it looks like", () => {
    const page = pageOf(study);
    expect(fault(page)).toBeUndefined();
    expect(page).not.toContain("<script");
    expect(page.replace(/"[^"]*"/g, "")).not.toMatch(/<[^>]*\son\w+=/);
    expect(page).toContain(
      "&lt;script&gt;alert(&quot;1&quot;)&lt;/script&gt;&#39; onclick=&#39;x &amp; &lt;/svg&gt;",
    );
  });

  test("stays text on the page of a file that can't be read", () => {
    const page = unreadablePage(hostile, [{ line: 1, message: hostile }]);
    expect(fault(page)).toBeUndefined();
    expect(page).not.toContain("<script");
  });
});

describe("bouts of every kind", () => {
  test("an empty log gives a page that says what will fill it", () => {
    const page = pageOf(boutWith([]));
    expect(fault(page)).toBeUndefined();
    expect(textOf(page)).toContain("No phrase has been halted yet");
    expect(textOf(page)).toContain("Not decided yet.");
    expect(page).not.toMatch(/NaN|<svg|<table|%/);
    expect(textOf(page)).toContain("no official result");
  });

  test("a phrase under way is shown and counts in no rate", () => {
    const page = pageOf(boutWith([{ kind: "phrase", start: at(1), actions: ["left attack"] }]));
    expect(fault(page)).toBeUndefined();
    expect(textOf(page)).toContain("No phrase has been halted yet");
    expect(page).not.toContain("NaN");
  });

  test("an undecided bout has no winner", () => {
    const text = textOf(pageOf(boutWith(phrases(3, leftAttack))));
    expect(text).toContain("3 to 0");
    expect(text).toContain("Not decided yet.");
  });

  test("épée doubles count for both, and both lamps have a line for a touch each", () => {
    const double = { actions: ["both attack"], lamps: { left: "valid", right: "valid" }, award: "both" };
    const page = pageOf(boutWith(phrases(6, double), { bout: { weapon: "epee" } }));
    expect(fault(page)).toBeUndefined();
    expect(textOf(page)).toContain("Weapon épée");
    expect(sideRow(page, "Touches", "touches in phrases")).toEqual({ left: "6", right: "6" });
    expect(sideRow(page, "Attempts that scored", "attack").right).toBe("6 of 6 100 % 61 to 100 %");
    expect(textOf(page)).toContain("touch for both, of all phrases 6 of 6 100 % 61 to 100 %");
    expect(textOf(page)).toContain("both opened 0 of 6 0 % 0 to 39 % 0 of 6 0 % 0 to 39 % 6 of 6 100 %");
  });

  test("where there is no video refereeing, no appeals are told", () => {
    const page = pageOf(boutWith(phrases(3, rightRiposte), { bout: { video: false } }));
    expect(textOf(page)).toContain("Video refereeing not in use");
    expect(textOf(page)).not.toContain("Video appeals");
  });

  test("an appeal without a picture is left out of the success rate", () => {
    const page = pageOf(
      boutWith(
        [
          ...phrases(2, rightRiposte),
          { kind: "review", at: at(15), by: "left", result: "no picture", award: "right" },
          { kind: "review", at: at(16), by: "right", result: "kept", award: "right" },
        ],
        { bout: { video: true } },
      ),
    );
    expect(sideRow(page, "Video appeals", "asked for")).toEqual({ left: "1", right: "1" });
    expect(sideRow(page, "Video appeals", "granted")).toEqual({
      left: "none with a picture",
      right: "0 of 1 too few for a percentage",
    });
  });

  test("without a recording the figures are plain text and the page says so", () => {
    const page = pageOf(boutWith(phrases(3, leftAttack), { recordings: [] }));
    expect(textOf(page)).toContain("This bout has no recording, so no number can be played.");
    expect(page).not.toContain('class="evidence"');
    expect(page).not.toContain("data-entries");
  });

  test("touches that were not recorded, or set by hand, stand in lines of their own", () => {
    const page = pageOf(
      boutWith([
        { kind: "opening", at: at(0), score: [4, 2] },
        ...phrases(1, leftAttack, 1),
        { kind: "correction", at: at(15), score: [4, 3] },
      ]),
    );
    expect(sideRow(page, "Touches", "touches in phrases")).toEqual({ left: "1", right: "0" });
    expect(sideRow(page, "Touches", "touches not recorded")).toEqual({ left: "4", right: "2" });
    expect(sideRow(page, "Touches", "set by the officials")).toEqual({ left: "−1", right: "1" });
    expect(textOf(page)).toContain("4 to 3");
  });

  test("phrases nobody tagged are told to be missing from the figures about actions", () => {
    const page = pageOf(boutWith([...phrases(5, leftAttack), ...phrases(2, { award: "right" }, 5)]));
    expect(textOf(page)).toContain("5 of 7 71 % 36 to 92 %");
    expect(textOf(page)).toContain("Figures about actions leave the other 2 out.");
  });

  test("a rule edition nobody knows is told, with the one the bout is counted by", () => {
    const page = pageOf(boutWith([], { bout: { rules: "house-rules" } }));
    expect(textOf(page)).toContain("house-rules, not known: counted by wheelchair-2026");
  });

  test("studyPage makes the same page from a bout that was read", () => {
    expect(studyPage(demo())).toBe(pageOf(demo()));
  });
});
