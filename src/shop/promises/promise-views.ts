import type { SetAside } from '../../promise/spread/set-aside.ts';
import type { JobId, OperationKey, RecipeId, TechnicianId } from '../../trade/model/ids.ts';
import type { WorkKind } from '../../trade/model/recipe.ts';
import type { Instant } from '../../trade/model/time.ts';

/** What makes a car late where it is late: shares are of the runs of the day in which the promise was not kept. */
export interface Blame {
  /** Work on the chain that made the car late, greatest overrun first; it may be another car's. */
  readonly operations: readonly {
    readonly jobId: JobId;
    readonly car: string;
    readonly operation: OperationKey;
    readonly label: string;
    readonly sharePercent: number;
    readonly overrunMinutes: number;
  }[];
  /** Who or what the car waited for. `hours`: nobody was in, the shop was closed, or the air was not fit. */
  readonly resources: readonly {
    readonly kind: 'place' | 'person' | 'equipment' | 'air' | 'standstill' | 'tandem' | 'hours';
    /** Empty when it has no name of its own. */
    readonly name: string;
    readonly sharePercent: number;
  }[];
}

/** A promise still to be kept, as things stand. */
export interface PromiseOutlook {
  readonly jobId: JobId;
  readonly car: string;
  readonly customer: string;
  readonly promisedPickupAt: Instant;
  /** Probability at which it was given, in percent. */
  readonly givenPercent: number;
  readonly plannedReadyAt: Instant;
  /** As likely to be ready earlier as later. */
  readonly medianReadyAt: Instant;
  /** Ready by then with 90 %. */
  readonly surelyReadyAt: Instant;
  /** Minutes from planned ready time to the promise; negative when late. */
  readonly slackMinutes: number;
  /** Probability that the car is ready by the promise, in percent, as of now. */
  readonly probabilityPercent: number;
  /** So much less sure than the shop promises that the desk is warned; it stays so until it is about as sure again. */
  readonly atRisk: boolean;
  readonly blame: Blame;
}

export type RemedyKind = 'anotherPerson' | 'overtime' | 'lamps' | 'laterPickup';

/** What another promise would lose by a remedy. */
export interface RemedyCost {
  readonly jobId: JobId;
  readonly car: string;
  readonly customer: string;
  readonly promisedPickupAt: Instant;
  readonly percentBefore: number;
  readonly percentAfter: number;
  /** Minutes by which its median ready time moves; negative is earlier. */
  readonly minutesLater: number;
}

/** One thing that could be done about a promise at risk, planned and simulated but not done. */
export interface Remedy {
  /** Names it in the address that applies it. */
  readonly key: string;
  readonly kind: RemedyKind;
  readonly text: string;
  /** What changes for people, bays and hours, a sentence each. */
  readonly changes: readonly string[];
  /** The pickup that would be promised: the same, or the new one. */
  readonly pickupAt: Instant;
  /** Probability of that pickup with the remedy, in percent. */
  readonly percentWith: number;
  /** Authorised overtime the remedy asks for, in minutes a person. */
  readonly overtimeMinutes: number;
  /** Other promises that lose at least a percent point, the greatest loss first. */
  readonly costs: readonly RemedyCost[];
}

export interface Remedies {
  readonly jobId: JobId;
  readonly car: string;
  readonly customer: string;
  readonly promisedPickupAt: Instant;
  readonly probabilityPercent: number;
  /** The plan they were looked for in; one is applied to that plan or not at all. */
  readonly planVersion: number;
  readonly blame: Blame;
  /** The surest first. */
  readonly remedies: readonly Remedy[];
}

/** A chance as the shop states it and as its records have corrected it, in percent. */
export interface ChanceView {
  readonly statedPercent: number;
  readonly learnedPercent: number;
  readonly happened: number;
  readonly cars: number;
}

export interface CoverageLine {
  /** Mean probability the promises of the band were given at, in percent. */
  readonly givenPercent: number;
  readonly promises: number;
  readonly kept: number;
  readonly keptPercent: number;
  /** 95 % interval (Wilson) for the share kept in the long run. */
  readonly fromPercent: number;
  readonly toPercent: number;
  readonly verdict: 'asSaid' | 'tooSure' | 'tooCareful';
}

export interface BiasLine {
  readonly promises: number;
  /** How much later than the middle of the forecast cars were ready, in minutes; negative is earlier. */
  readonly meanMinutes: number;
  /** Null with one promise. */
  readonly standardErrorMinutes: number | null;
  /** More than two standard errors from 0, with at least five promises. */
  readonly clear: boolean;
}

/** A kind of work as the floor's records have corrected the norm. */
export interface DurationLine {
  readonly kind: WorkKind;
  readonly records: number;
  /** Median of the time it takes, in percent of the computed minutes. */
  readonly medianPercent: number;
  /** Nine of ten take no more, in percent of the computed minutes. */
  readonly ninetyPercent: number;
}

/** A record that was not learned from. */
export interface SetAsideLine {
  readonly jobId: JobId;
  readonly car: string;
  readonly operation: OperationKey;
  readonly kind: WorkKind;
  readonly people: readonly TechnicianId[];
  readonly startedAt: Instant;
  readonly plannedMinutes: number;
  readonly workedMinutes: number;
  readonly reason: SetAside['reason'];
}

/** How well promises were kept, and what has been learned from the floor. */
export interface PromiseCalibration {
  /** Promises scored: of cars that are ready, the last 2,000 at most. */
  readonly promises: number;
  readonly coverage: readonly CoverageLine[];
  /** 0 best; null without promises. */
  readonly brierScore: number | null;
  readonly pinballLossMinutes: number | null;
  readonly byRecipe: readonly (BiasLine & { readonly recipeId: RecipeId; readonly name: string })[];
  readonly byPerson: readonly (BiasLine & { readonly technicianId: TechnicianId; readonly name: string })[];
  /** What every spread is multiplied by in new promises; 1 while coverage is as said. */
  readonly spreadFactor: number;
  readonly finalInspectionFails: ChanceView;
  readonly scopeChanges: ChanceView;
  readonly durations: readonly DurationLine[];
  readonly setAside: readonly SetAsideLine[];
}
