import type { DatabaseTrouble } from '../../store/store.ts';
import type { Nearest } from '../booking/nearest.ts';
import { type Objection, ShopProblem } from './shop-problem.ts';

/** No such thing in this shop. */
export class NotFound extends ShopProblem {
  readonly kind = 'notFound';
  constructor(what: string, id: string, field: string) {
    super(`There is no ${what} "${id}"${what === 'shop' ? '' : ' in this shop'}.`, field);
  }
}

/** Somebody changed it since it was read; `currentVersion` is what stands now. */
export class Stale extends ShopProblem {
  readonly kind = 'stale';
  readonly currentVersion: number | null;
  constructor(what: string, expected: number, current: number | null) {
    super(
      `The ${what} was changed meanwhile (version ${expected} was expected${current === null ? '' : `, ${current} stands`}); read it again.`,
      'version',
    );
    this.currentVersion = current;
  }
}

/** The trade or the shop objects; every objection is listed. */
export class Refused extends ShopProblem {
  readonly kind = 'refused';
  constructor(message: string, objections: readonly Objection[]) {
    super(message, objections[0]?.field ?? '', objections);
  }
}

/** No plan holds the job as asked: why, in words, and the nearest that would fit. */
export class NothingFits extends ShopProblem {
  readonly kind = 'nothingFits';
  readonly nearest: Nearest | null;
  constructor(message: string, field: string, reasons: readonly Objection[], nearest: Nearest | null) {
    super(message, field, reasons);
    this.nearest = nearest;
  }
}

/** The slot was taken by somebody else a moment ago; `nearest` is the next that fits. */
export class SlotGone extends ShopProblem {
  readonly kind = 'slotGone';
  readonly nearest: Nearest | null;
  constructor(nearest: Nearest | null) {
    super('The slot was taken meanwhile.', 'dropOffAt');
    this.nearest = nearest;
  }
}

/** A gate of the floor is shut; the objections name what is missing and the figures. */
export class GateShut extends ShopProblem {
  readonly kind = 'gateShut';
  constructor(message: string, objections: readonly Objection[]) {
    super(message, objections[0]?.field ?? '', objections);
  }
}

/** The job or operation is not in a state from which this can be done. */
export class WrongState extends ShopProblem {
  readonly kind = 'wrongState';
  constructor(message: string, field: string) {
    super(message, field);
  }
}

/** A value that no schema could refuse by itself (a time in the past, an unknown step). */
export class Invalid extends ShopProblem {
  readonly kind = 'invalid';
  constructor(message: string, field: string, objections: readonly Objection[] = []) {
    super(message, field, objections);
  }
}

/** The independent check found fault with a plan; it was not stored. */
export class PlanRejected extends ShopProblem {
  readonly kind = 'planRejected';
  constructor(violations: readonly Objection[]) {
    super('The plan broke a rule and was not stored.', '', violations);
  }
}

/** Planning did not answer: cancelled, timed out or its worker died. Asking again may help. */
export class Busy extends ShopProblem {
  readonly kind = 'busy';
  /** What of the book contradicts itself, where a search said so. */
  readonly reasons: readonly Objection[];
  constructor(message: string, reasons: readonly Objection[] = []) {
    super(message, '');
    this.reasons = reasons;
  }
}

/** The database cannot be reached, or cannot be written, for now: nothing was done, and asking again later may help. */
export class StoreTrouble extends ShopProblem {
  readonly kind = 'storeTrouble';
  constructor(trouble: DatabaseTrouble) {
    super(STORE_TROUBLES[trouble], '');
  }
}

const STORE_TROUBLES: Readonly<Record<DatabaseTrouble, string>> = {
  unreachable: 'The database does not answer.',
  full: 'The database has no room left; reading goes on.',
  readOnly: 'The database cannot be written; reading goes on.',
  overloaded: 'The database did not answer in time.',
};

/** Nobody is signed in, or what was given to sign in with is wrong. Says nothing of which part was. */
export class NotSignedIn extends ShopProblem {
  readonly kind = 'notSignedIn';
  constructor(message: string) {
    super(message, '');
  }
}

/** Too many attempts failed; none is looked at for a while. */
export class TooManyAttempts extends ShopProblem {
  readonly kind = 'tooManyAttempts';
  constructor(message: string) {
    super(message, '');
  }
}
