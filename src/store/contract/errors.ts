/** Refusals of the store that a caller is expected to handle. Anything else it throws is a fault. */
export abstract class StoreRefusal extends Error {
  abstract readonly code: string;
}

export class NotFound extends StoreRefusal {
  readonly code = 'notFound';
  readonly kind: string;
  readonly id: string;
  constructor(kind: string, id: string) {
    super(`${kind} ${id} is not there`);
    this.kind = kind;
    this.id = id;
  }
}

export class AlreadyExists extends StoreRefusal {
  readonly code = 'alreadyExists';
  readonly kind: string;
  readonly id: string;
  constructor(kind: string, id: string) {
    super(`${kind} ${id} exists already`);
    this.kind = kind;
    this.id = id;
  }
}

/** The document changed since the caller read it. */
export class StaleVersion extends StoreRefusal {
  readonly code = 'staleVersion';
  readonly kind: string;
  readonly id: string;
  readonly expected: number;
  readonly actual: number;
  constructor(kind: string, id: string, expected: number, actual: number) {
    super(`${kind} ${id} is at version ${actual}, not ${expected}`);
    this.kind = kind;
    this.id = id;
    this.expected = expected;
    this.actual = actual;
  }
}

/** Cannot be deleted: something still points to it. */
export class StillReferenced extends StoreRefusal {
  readonly code = 'stillReferenced';
  readonly kind: string;
  readonly id: string;
  /** Kinds that point to it, such as `job` or `plan`. */
  readonly by: readonly string[];
  constructor(kind: string, id: string, by: readonly string[]) {
    super(`${kind} ${id} is still used by ${by.join(', ')}`);
    this.kind = kind;
    this.id = id;
    this.by = by;
  }
}

/** Points to something that is not there. */
export class UnknownReference extends StoreRefusal {
  readonly code = 'unknownReference';
  /** Path in the document, such as `airZoneId` or `steps.3.coatingId`. */
  readonly field: string;
  readonly kind: string;
  readonly id: string;
  constructor(field: string, kind: string, id: string) {
    super(`${field} names ${kind} ${id}, which is not there`);
    this.field = field;
    this.kind = kind;
    this.id = id;
  }
}

/** A document that its model refuses, on the way in or, from a damaged row, on the way out. */
export class InvalidDocument extends StoreRefusal {
  readonly code = 'invalidDocument';
  /** Which row: kind, shop and id. */
  readonly row: string;
  readonly problems: readonly { field: string; message: string }[];
  constructor(row: string, problems: readonly { field: string; message: string }[]) {
    super(`${row}: ${problems.map((each) => `${each.field} ${each.message}`).join('; ')}`);
    this.row = row;
    this.problems = problems;
  }
}

export class InvalidCursor extends StoreRefusal {
  readonly code = 'invalidCursor';
  constructor() {
    super('cursor is not one that a list gave');
  }
}

/** Another plan was published since the one this was made from. */
export class StalePlan extends StoreRefusal {
  readonly code = 'stalePlan';
  readonly expected: number;
  readonly actual: number;
  constructor(expected: number, actual: number) {
    super(`the current plan is version ${actual}, not ${expected}`);
    this.expected = expected;
    this.actual = actual;
  }
}

/** Two cars, or a car and a hold, would stand in one place at one time. Refused by the database. */
export class DoubleBooking extends StoreRefusal {
  readonly code = 'doubleBooking';
  /** The place, where the database told it. */
  readonly placeId: string | null;
  constructor(placeId: string | null) {
    super(placeId === null ? 'a place would be taken twice' : `place ${placeId} would be taken twice`);
    this.placeId = placeId;
  }
}
