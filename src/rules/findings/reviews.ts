// Video reviews the rules do not know in this place, or that say something else than the phrase they belong to.

import type { Side } from "../../bout/words";
import type { ReviewRow } from "../rows";
import { byOwnFormat, nameOf, relatedTo, type Check } from "./check";

const noSource = "common practice, no source";

function asker({ entry: { by } }: ReviewRow): Side | undefined {
  return by === "left" || by === "right" ? by : undefined;
}

export const reviewWithoutPhrase: Check<"review"> = (row, _past, report) => {
  if (row.of !== null) return;
  report(row, {
    rule: "review-without-phrase",
    severity: "warning",
    message: "no phrase comes before this review, so it changes nothing; move it below its phrase",
    from: byOwnFormat,
  });
};

export const reviewWithoutVideo: Check<"review"> = (row, past, report) => {
  if (past.ledger.bout.about.video !== false || !past.first("review-without-video")) return;
  report(row, {
    rule: "review-without-video",
    severity: "warning",
    message:
      'the bout says that no video refereeing was in use ("video": false), and here is a review; correct one of the two',
    from: byOwnFormat,
  });
};

export const appealWithNoneLeft: Check<"review"> = (row, { ledger }, report) => {
  const by = asker(row);
  if (by === undefined || row.before.appeals?.[by] !== 0) return;
  report(row, {
    rule: "appeal-with-none-left",
    severity: "warning",
    message: `${nameOf(ledger, by)} has no appeal left when asking for this review; correct who asked, or an earlier result`,
    from: ledger.edition.formats[ledger.bout.about.format].appeals,
  });
};

export const secondReview: Check<"review"> = (row, { ledger }, report) => {
  if (row.of === null || !ledger.edition.reviews.onceForAnAction.value) return;
  const phrase = ledger.byEntry[row.of];
  if (phrase?.kind !== "phrase") return;
  const [first] = phrase.phrase.reviews;
  if (first === undefined || first === row.record.index) return;
  report(row, {
    rule: "second-review",
    severity: "warning",
    message: `phrase ${phrase.phrase.number} was reviewed already, and no action is looked at twice, whoever asks; move this review below its own phrase, or leave one of them out`,
    from: ledger.edition.reviews.onceForAnAction,
    related: relatedTo(ledger.byEntry[first], "the first review"),
  });
};

/** A kept call spends a fencer's appeal, a changed one does not; officials' reviews cost nobody one. */
export const appealShownWrong: Check<"review"> = (row, { ledger }, report) => {
  const { appeal, result } = row.entry;
  if (appeal === undefined) return;
  const by = asker(row);
  const rule = ledger.edition.formats[ledger.bout.about.format].appeals;
  const tell = (message: string, severity: "warning" | "note" = "warning", from = rule) =>
    report(row, { rule: "appeal-shown-wrong", severity, message, from: { ...from } });
  if (by === undefined) {
    if (appeal === "lost")
      tell("the board shows an appeal lost, but the officials asked, which costs nobody one");
    return;
  }
  const name = nameOf(ledger, by);
  if (result === "kept" && appeal === "kept")
    tell(`the call was kept, which spends ${name}'s appeal, but the board shows it as still there`);
  if (result === "changed" && appeal === "lost")
    tell(`the call was changed, which leaves ${name} the appeal, but the board shows it as lost`);
  if (result === "no picture" && appeal === "lost")
    tell(
      `there was no picture to judge by, which leaves ${name} the appeal, but the board shows it as lost`,
      "note",
      {
        ...rule,
        source: noSource,
      },
    );
};

export const changedWithoutCall: Check<"review"> = (row, { ledger }, report) => {
  if (row.of === null || row.entry.result !== "changed" || row.stood !== null || row.before.ended !== null)
    return;
  report(row, {
    rule: "changed-without-call",
    severity: "warning",
    message:
      'nothing had been called before this review, so there was no call to change; write its result as "decided", or the award that was announced first',
    from: byOwnFormat,
    related: relatedTo(ledger.byEntry[row.of], "the phrase, without a call"),
  });
};

export const reviewResultDisagrees: Check<"review"> = (row, { ledger }, report) => {
  if (row.of === null || row.before.ended !== null) return;
  const { result, award, call } = row.entry;
  const tell = (severity: "warning" | "note", message: string) =>
    report(row, {
      rule: "review-result-disagrees",
      severity,
      message,
      from: byOwnFormat,
      related: relatedTo(ledger.byEntry[row.of ?? -1], "the phrase it belongs to"),
    });
  if (result === "decided" && row.stood !== null)
    tell("warning", 'the touch had been called before this review; write its result as "kept" or "changed"');
  if (result === "kept" && row.stood === null)
    tell("warning", 'nothing had been called that could be kept; write its result as "decided"');
  if (result === "kept" && row.stood !== null && award !== undefined && row.stands !== row.stood)
    tell(
      "warning",
      "the call is written as kept, but another award stands after it; correct the result or the award",
    );
  if (result === "changed" && row.stood !== null && row.stands === row.stood && call === undefined)
    tell(
      "note",
      "the call is written as changed, but the same award stands after it; write the call as told again, or correct the result",
    );
};

export const reviewAfterCorrection: Check<"review"> = (row, { setSince }, report) => {
  if (row.of === null || setSince === undefined || row.stood === row.stands) return;
  report(row, {
    rule: "review-after-correction",
    severity: "note",
    message: `this review changes who has the touch, but the score was set by hand between the phrase and it (${setSince.record.at}); the score set there is kept`,
    from: byOwnFormat,
    related: relatedTo(setSince, "the score set by hand"),
  });
};
