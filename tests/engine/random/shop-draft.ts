import type {
  AirSpan,
  Branch,
  Budget,
  Interval,
  Job,
  Lag,
  Mode,
  Operation,
  Place,
  Problem,
  Progress,
  Resource,
  SameCrew,
  Stay,
  Still,
} from '../../../src/engine/problem/problem.ts';
import { blankProblem } from './blank-problem.ts';

export const DAY = 1440;

/** Labels on the air of a zone. */
export const Air = { dust: 0, mist: 1, coating: 2, vapour: 3, ignition: 4 } as const;

/** A shop being put together; every part may still be added to. */
export class ShopDraft {
  readonly progresses: Progress[] = [];
  readonly resources: Resource[] = [];
  readonly budgets: Budget[] = [];
  readonly places: Place[] = [];
  readonly zones: string[] = [];
  readonly jobs: Job[] = [];
  readonly operations: Operation[] = [];
  readonly stays: Stay[] = [];
  readonly lags: Lag[] = [];
  readonly branches: Branch[] = [];
  readonly sameCrew: SameCrew[] = [];
  readonly airSpans: AirSpan[] = [];
  readonly stills: Still[] = [];

  readonly now: number;
  readonly days: number;

  constructor(now: number, days: number) {
    this.now = now;
    this.days = days;
  }

  /** The same hours every day. */
  daily(...hours: readonly Interval[]): Interval[] {
    return Array.from({ length: this.days }, (_, day) =>
      hours.map(({ from, to }) => ({ from: day * DAY + from, to: day * DAY + to })),
    ).flat();
  }

  /** A person with hours, a progress of the same index, and a daily cap on machine work of the same index. */
  addPerson(name: string, open: readonly Interval[], overtime: readonly Interval[]): number {
    this.progresses.push(hoursAsProgress(open));
    this.budgets.push({
      name: `machine hours of ${name}`,
      windows: this.daily({ from: 0, to: DAY }),
      limit: 300,
    });
    return this.resources.push({ name, capacity: 100, kind: 'person', open, overtime }) - 1;
  }

  addOperation(operation: Operation): number {
    return this.operations.push(operation) - 1;
  }

  finish(given: Partial<Problem>): Problem {
    const { progresses, resources, budgets, places, zones, jobs, operations, stays, lags, branches } = this;
    return blankProblem({
      horizon: this.days * DAY,
      now: this.now,
      progresses,
      resources,
      budgets,
      places,
      zones,
      airLabels: ['dust', 'mist', 'open coating', 'vapour', 'ignition'],
      airExclusions: zones.flatMap((_, zone) => [
        { zone, first: Air.dust, second: Air.coating, settleAfterFirst: 30, settleAfterSecond: 0 },
        { zone, first: Air.mist, second: Air.coating, settleAfterFirst: 10, settleAfterSecond: 0 },
        { zone, first: Air.vapour, second: Air.ignition, settleAfterFirst: 5, settleAfterSecond: 0 },
      ]),
      jobs,
      operations,
      stays,
      lags,
      branches,
      sameCrew: this.sameCrew,
      airSpans: this.airSpans,
      stills: this.stills,
      tiers: ['broken', 'tardiness', 'overtime', 'lead'],
      ...given,
    });
  }
}

export function hoursAsProgress(open: readonly Interval[]): Progress {
  const at: number[] = [];
  const rate: number[] = [];
  for (const { from, to } of open) {
    if (at.at(-1) === from) {
      at.pop();
      rate.pop();
    } else {
      at.push(from);
      rate.push(1);
    }
    at.push(to);
    rate.push(0);
  }
  return at.length > 0 && rate[0] === 0 ? { at: at.slice(1), rate: rate.slice(1) } : { at, rate };
}

/** The minutes that are in both lists of sorted hours. */
export function commonHours(one: readonly Interval[], other: readonly Interval[]): Interval[] {
  return one.flatMap((a) =>
    other.flatMap((b) => {
      const both = { from: Math.max(a.from, b.from), to: Math.min(a.to, b.to) };
      return both.from < both.to ? [both] : [];
    }),
  );
}

/** One mode a person, each in the person's own hours. */
export function byAnyOf(people: readonly number[], minutes: number, given: Partial<Mode> = {}): Mode[] {
  return people.map((person) => ({
    work: minutes,
    progress: person,
    uses: [{ resource: person, amount: 100 }],
    ...given,
  }));
}
