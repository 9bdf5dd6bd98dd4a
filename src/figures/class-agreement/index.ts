// How far do the readers of a seminar pack agree with its reference, and with each other?

export { classAgreementOf } from "./class-agreement";
export type * from "./model";
export { parts } from "./parts";
export { classTables } from "./tables";
