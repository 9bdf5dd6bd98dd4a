// What do the rules make of a bout? The edition in force, the ledger counted by it, and what in the file they
// contradict.

export { nextCost, touchesFor, type Cost } from "./cards";
export { editionSchema } from "./edition-schema";
export {
  extendEdition,
  offenceNamed,
  offencesFor,
  stopReasonsFor,
  type Edition,
  type EditionChanges,
  type GroupNumber,
  type Offence,
} from "./edition";
export {
  editionFileEnding,
  editionFileOf,
  editionFileSchema,
  readEdition,
  type EditionFile,
} from "./edition-file";
export { editionNamed, editionOn, editions, fallbackEdition } from "./editions";
export { findingsOf, type Finding, type Related } from "./findings";
export { isRuleId, pageOf, ruleBook, type Concern, type RuleId } from "./findings/rule-book";
export { ledger, type Ledger } from "./ledger";
export { hasTouch, lampLit } from "./phrases";
export { remediesOf, type Remedy, type RemedyKind } from "./remedies";
export { posesOf, type Poses } from "./poses";
export type { PhraseFacts, PhraseRow, Pose, ReviewRow, Row, Score, Sided, State, Touches } from "./rows";
export { studyOf, textFindings, type Study } from "./study";
