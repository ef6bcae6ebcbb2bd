import type { LocalDate } from '../../trade/model/time.ts';

/** One thing an owner could add. `bay` and `person` are another like the one that has least left. */
export const whatIfChanges = ['bay', 'person', 'lamp', 'saturday'] as const;
export type WhatIfChange = (typeof whatIfChanges)[number];

export interface WhatIfTerms {
  /** Months that are drawn; each is planned without and with every change. */
  readonly months: number;
  readonly seed: number;
  /** Cars a week against those of the weeks looked at, in percent. */
  readonly demandPercent: number;
}

/** The middle and the ends of what the drawn months gave. */
export interface Range {
  readonly median: number;
  readonly least: number;
  readonly most: number;
}

/** What a month came to. Minutes are whole. */
export interface MonthFigures {
  readonly cars: number;
  /** Cars that are not ready when their customers want them. */
  readonly lateCars: number;
  /** Minutes from the wanted pickup to the ready time, over all late cars. */
  readonly lateMinutes: number;
  /** Minutes from the first hour a car could come to its ready time, a car in the middle. */
  readonly waitMinutes: number;
  readonly bays: readonly ShareOfOpen[];
  readonly people: readonly ShareOfOpen[];
}

/** How much of its open minutes a bay held a car, or a person had hands on one. */
export interface ShareOfOpen {
  readonly id: string;
  readonly name: string;
  readonly takenMinutes: number;
  readonly openMinutes: number;
}

export interface ShareRange {
  readonly id: string;
  readonly name: string;
  /** Taken of open, in percent. */
  readonly percent: Range;
}

export interface ChangeOutcome {
  readonly change: WhatIfChange;
  /** Whom or what it copies, or which hours it adds; empty where there is nothing to name. */
  readonly like: string;
  /** Months planned both without and with it. */
  readonly months: number;
  readonly lateCars: Range;
  /** With it less without it, month by month: negative is better. */
  readonly lateCarsChange: Range;
  readonly lateMinutesChange: Range;
  readonly waitMinutesChange: Range;
}

/** What would have been different in months like the recent ones. */
export interface WhatIfs {
  /** First day of the drawn months. */
  readonly from: LocalDate;
  readonly weeks: number;
  /** Jobs that months are drawn from, and the weeks they came in. */
  readonly drawnFrom: { readonly jobs: number; readonly weeks: number };
  readonly terms: WhatIfTerms;
  /** Months that could be planned as things are. */
  readonly months: number;
  readonly cars: Range;
  readonly lateCars: Range;
  readonly lateMinutes: Range;
  readonly waitMinutes: Range;
  readonly bays: readonly ShareRange[];
  readonly people: readonly ShareRange[];
  readonly changes: readonly ChangeOutcome[];
}

export interface WhatIfProgress {
  readonly planned: number;
  readonly of: number;
}
