// What do many bouts say of one fencer, and what does a coach plan from it?

export { briefOf, type Brief, type BriefBout, type SharePart } from "./brief";
export type { BriefComparison, BriefComparisons, BriefGroup } from "./comparing";
export { peopleIn, personNamed, type BoutRead, type Person } from "./fencers";
export type { CommonOpponent } from "./opponents";
export { countOf, type BriefEvidence, type PooledRate, type TouchRow } from "./pooling";
export type { AskedFor, BriefCards, BriefReviews, CardsOfColour } from "./reviews";
export type { Sentence } from "./sentences";
export type { Trend, TrendPoint } from "./trend";
export type { PlanSpace } from "./plan";
export {
  noPlan,
  planFileEnding,
  planFileName,
  planFileSchema,
  planText,
  planThings,
  readPlan,
  thingOf,
  withoutTie,
  withTie,
  withWords,
  type Tie,
  type TiedBout,
  type WrittenPlan,
} from "./written-plan";
export { shownPlan, type FindBout, type ShownPlan, type ShownThing, type ShownTie } from "./shown-plan";
