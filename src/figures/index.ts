// What do the numbers of a bout say, how sure are they, and which phrases are behind them?

export { againstOf, type Against, type RelationFound } from "./against";
export {
  agreementOf,
  type Agreement,
  type Difference,
  type Judgement,
  type MatchedPhrase,
} from "./agreement";
export { caution } from "./caution";
export {
  driftOf,
  driftStudyOf,
  type Drift,
  type DriftStudy,
  type GapChange,
  type LeftOut,
  type Place,
  stepsOf,
  type Recentre,
  type Stretch,
} from "./drift";
export { figuresOf } from "./figures";
export type * from "./model";
export { outcomeDefinitions, outcomes, type Outcome } from "./outcomes";
export type { Entries, EvidencedCountPerMinute, EvidencedRate, MedianFigure, Net } from "./rates";
export { pickedPhrases, sideOf, type Picked } from "./pick";
export {
  pickActions,
  pickAwards,
  pickCards,
  pickFamilies,
  pickOpeners,
  pickReviewers,
  pickReviews,
  pickSchema,
  pickScored,
  pickSides,
  pickStops,
  type Pick,
  type PickPart,
} from "./pick-format";
export { pickInWords } from "./pick-words";
export {
  countedRows,
  phraseColumns,
  phraseTable,
  phraseTableRules,
  phraseTableVersion,
  seasonOf,
  type Column,
  type ColumnName,
  type ColumnType,
  type PhraseCell,
  type PhraseTableRow,
  type TableSource,
} from "./phrase-table";
export { relationOf, type Relation } from "./relation";
export {
  noPicks,
  picksFileEnding,
  picksFileOf,
  picksFileSchema,
  picksText,
  readPicks,
  savedPickSchema,
  withoutPick,
  withPick,
  type PicksFile,
  type SavedPick,
} from "./saved-picks";
export { sheetOf, type Sheet, type SideFigures, type StudySheet } from "./sheet";
export { tracksOf, type Track, type TrackPlace } from "./tracks";
export { evidenceOf, type Evidence, type ReviewEvidence, type Scored, type SideEvidence } from "./tally";
export { readTagDefinitions, tagDefinitionsSchema, type TagDefinitions } from "./words-used";
export { agreementTables, comparisonsTable, csvText, tablesOf, type Cell, type Table } from "./tables";
export { compareBouts, type BoutsCompared } from "./two-bouts";
export {
  entryOf,
  phraseEvidenceSchema,
  writtenEvidenceOf,
  writtenEvidenceSchema,
  type PhraseEvidence,
  type WrittenEvidence,
} from "./written-evidence";
