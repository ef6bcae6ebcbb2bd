import { FloorEvent, type FloorFact, Job } from '../../../src/trade/model/job.ts';
import type { Instant } from '../../../src/trade/model/time.ts';

export const at = (iso: string): Instant => Date.parse(iso) as Instant;

/** A made-up job of a made-up customer; what a test is about it says itself. */
export function aJob(recipeId: string, given: Partial<PlainJob> = {}): Job {
  return Job.parse({
    id: 'job1',
    state: 'booked',
    customer: { name: 'Customer (invented)', phone: '', email: '' },
    vehicle: {
      class: 'compact',
      description: 'grey compact (invented)',
      registration: 'TEST-1',
      colour: 'grey',
      lengthMm: 4280,
      heightMm: 1470,
      paintHardness: 'medium',
      repaints: [],
    },
    condition: { soil: 1, defects: 2, brakeDust: 1, minerals: false, tar: false },
    recipeId,
    addOns: [],
    priority: 1,
    earliestDropOff: at('2026-06-01T06:00Z'),
    dropOffAt: null,
    wantedPickupAt: null,
    promise: null,
    holdUntil: null,
    depositNote: '',
    arranged: null,
    inspection: null,
    scope: null,
    priceMinor: 0,
    notes: '',
    createdAt: at('2026-05-20T08:00Z'),
    version: 0,
    ...given,
  });
}

// biome-ignore lint/suspicious/noExplicitAny: a test gives plain data, the schema checks it
type PlainJob = Record<keyof Job, any>;

/** When, and what; the schema checks it. */
export type Happening = readonly [
  iso: string,
  fact: { readonly kind: FloorFact['kind']; readonly [field: string]: unknown },
];

/** Facts of one car's floor, in order. */
export function floor(...facts: readonly Happening[]): FloorEvent[] {
  return floorOf('job1', ...facts);
}

export function floorOf(jobId: string, ...facts: readonly Happening[]): FloorEvent[] {
  return facts.map(([iso, fact], sequence) =>
    FloorEvent.parse({
      jobId,
      clientId: `${jobId}-event-${sequence}`,
      occurredAt: at(iso),
      recordedAt: at(iso),
      sequence,
      fact,
    }),
  );
}
