import type { JobId } from '../../../src/trade/model/ids.ts';

/** What happens in a shop beside the work, and out of what it may happen. */
export const happenings = {
  noShow: { share: 0.04, of: 'cars sold', words: 'never came' },
  cancelled: { share: 0.06, of: 'cars sold', words: 'cancelled before the drop-off' },
  changed: { share: 0.15, of: 'cars sold', words: 'booking changed by the customer' },
  early: { share: 0.1, of: 'cars sold', words: 'came 15 to 60 minutes early' },
  late: { share: 0.15, of: 'cars sold', words: 'came 30 to 150 minutes late, or fetched as late' },
  walkIn: { share: 0.4, of: 'working days', words: 'stood at the door' },
  sick: { share: 0.03, of: 'working days of each person', words: 'away for the day' },
  bayClosed: { share: 0.04, of: 'working days', words: 'a bay closed for half a day' },
  damp: { share: 0.08, of: 'working days', words: 'air too damp for coating all afternoon' },
  forgotten: { share: 0.04, of: 'works', words: '"finished" told 20 to 90 minutes late' },
  otherWork: { share: 0.03, of: 'works', words: 'somebody began other work than was due' },
} as const;

export type Happening = keyof typeof happenings;
export const everyHappening = Object.keys(happenings) as Happening[];

/** How often each happens, from 0 to 1. */
export type Shares = Readonly<Record<Happening, number>>;

export const commonShares = sharesBy((kind) => happenings[kind].share);
export const nothingHappens = sharesBy(() => 0);

export function sharesBy(share: (kind: Happening) => number): Shares {
  return Object.fromEntries(everyHappening.map((kind) => [kind, share(kind)])) as unknown as Shares;
}

/** What happened, to which cars, and what the server refused. */
export class Happened {
  readonly times = new Map<Happening, number>();
  readonly cars = new Map<Happening, Set<JobId>>();
  /** By kind and what was said. */
  readonly refused = new Map<string, number>();

  note(kind: Happening, cars: readonly JobId[]): void {
    this.times.set(kind, (this.times.get(kind) ?? 0) + 1);
    const known = this.cars.get(kind) ?? new Set();
    for (const car of cars) known.add(car);
    this.cars.set(kind, known);
  }

  refuse(kind: Happening, problem: unknown): void {
    const said = `${kind}: ${String(problem).slice(0, 160)}`;
    this.refused.set(said, (this.refused.get(said) ?? 0) + 1);
  }
}
