import type { Budget, Interval, Place, Progress, Resource } from '../../../src/engine/problem/problem.ts';

export const DAY_MINUTES = 24 * 60;

export interface BookShop {
  readonly progresses: Progress[];
  readonly resources: Resource[];
  readonly budgets: Budget[];
  readonly places: Place[];
  readonly zones: string[];
  /** Indices of resources: who may do what. */
  readonly leads: number[];
  readonly polishers: number[];
  readonly coaters: number[];
  readonly washers: number[];
  readonly drivers: number[];
  readonly wetBays: number[];
  readonly dryBays: number[];
  readonly yard: number[];
  readonly opening: Interval[];
}

/** The minute axis begins on a Monday at midnight; weekends are closed. */
export function isWorkday(day: number): boolean {
  return day % 7 < 5;
}

/** An invented shop: a quarter of its bays wet, the rest for correction and coating, two dry bays to an air zone. */
export function makeShop(bays: number, people: number, days: number): BookShop {
  const workdays = Array.from({ length: days }, (_, day) => day).filter(isWorkday);
  const opening = workdays.map((day) => ({ from: day * DAY_MINUTES + 8 * 60, to: day * DAY_MINUTES + 18 * 60 }));
  const progresses: Progress[] = [];
  const resources: Resource[] = [];
  const budgets: Budget[] = [];
  for (let p = 0; p < people; p++) {
    const begins = p % 2 === 0 ? 8 * 60 : 9 * 60;
    const open = workdays.map((day) => ({ from: day * DAY_MINUTES + begins, to: day * DAY_MINUTES + begins + 9 * 60 }));
    resources.push({ name: `person ${p + 1}`, capacity: 100, kind: 'person', open });
    const breakAt = begins + 4 * 60;
    progresses.push({
      at: workdays.flatMap((day) =>
        [begins, breakAt, breakAt + 30, begins + 9 * 60].map((at) => day * DAY_MINUTES + at),
      ),
      rate: workdays.flatMap(() => [1, 0, 1, 0]),
    });
    budgets.push({
      name: `machine polishing of person ${p + 1}`,
      limit: 330,
      windows: workdays.map((day) => ({ from: day * DAY_MINUTES, to: (day + 1) * DAY_MINUTES })),
    });
  }
  resources.push({ name: 'pressure washer', capacity: Math.max(1, Math.floor(bays / 4)), kind: 'equipment' });
  const wet = Math.max(1, Math.floor(bays / 4));
  const places: Place[] = [];
  for (let b = 0; b < bays; b++) {
    const zone = b < wet ? 0 : 1 + Math.floor((b - wet) / 2);
    places.push({ name: `bay ${b + 1}`, turnaround: 15, blockedBy: [], zone });
  }
  for (let y = 0; y < bays; y++) places.push({ name: `yard ${y + 1}`, turnaround: 0, blockedBy: [] });
  const everyone = Array.from({ length: people }, (_, p) => p);
  const share = (least: number, part: number, from: number) =>
    everyone.slice(from, from + Math.max(least, Math.ceil(people * part))).filter((p) => p < people);
  return {
    progresses,
    resources,
    budgets,
    places,
    zones: ['wet', ...Array.from({ length: Math.ceil((bays - wet) / 2) }, (_, z) => `dry ${z + 1}`)],
    leads: share(2, 0.2, 0),
    coaters: share(3, 0.3, 0),
    polishers: share(3, 0.4, Math.min(2, people - 3)),
    washers: share(2, 0.4, Math.floor(people / 2)),
    drivers: share(4, 0.3, 0),
    wetBays: everyRange(0, wet),
    dryBays: everyRange(wet, bays),
    yard: everyRange(bays, 2 * bays),
    opening,
  };
}

function everyRange(from: number, to: number): number[] {
  return Array.from({ length: to - from }, (_, k) => from + k);
}
