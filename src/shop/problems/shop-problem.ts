/** What can go wrong in a use case, by a kind that never changes its name. */
export type ProblemKind =
  | 'notFound'
  | 'stale'
  | 'refused'
  | 'nothingFits'
  | 'slotGone'
  | 'gateShut'
  | 'wrongState'
  | 'invalid'
  | 'planRejected'
  | 'busy'
  | 'storeTrouble'
  | 'notSignedIn'
  | 'tooManyAttempts';

/** One reason against what was asked, with the field it is about and the numbers in its sentence. */
export interface Objection {
  /** Stable name of the rule. */
  readonly rule: string;
  /** Dotted path into the input, or the empty string when it is about the whole. */
  readonly field: string;
  readonly text: string;
}

/** Base of every error a use case throws on purpose. `message` is one sentence for a person. */
export abstract class ShopProblem extends Error {
  abstract readonly kind: ProblemKind;
  /** The field at fault, dotted; empty when no single field is. */
  readonly field: string;
  readonly objections: readonly Objection[];

  constructor(message: string, field: string, objections: readonly Objection[] = []) {
    super(message);
    this.name = new.target.name;
    this.field = field;
    this.objections = objections;
  }
}
