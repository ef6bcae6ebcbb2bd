import type { Book } from '../../../src/trade/formulate/book.ts';
import { FloorEvent } from '../../../src/trade/model/job.ts';
import type { Instant } from '../../../src/trade/model/time.ts';
import { aJob } from './a-job.ts';
import { seedShop } from './seed-shop.ts';

/** A small generator (xorshift32: G. Marsaglia, "Xorshift RNGs", J. Stat. Soft. 8, 2003), so that a seed repeats. */
function random(seed: number): (below: number) => number {
  let state = Math.imul(seed, 2654435761) | 1;
  return (below) => {
    state ^= state << 13;
    state ^= state >>> 17;
    state ^= state << 5;
    return Math.floor(((state >>> 0) / 2 ** 32) * below);
  };
}

/** A floor on which anything may happen in any order, within two days of a Monday morning. */
export function wildFloor(seed: number) {
  const shop = seedShop('2026-06-03T09:17:30Z');
  const { job, events, recipe } = wildCar(shop, seed, 'job1');
  return { book: { ...shop, jobs: [job], events }, recipe };
}

/** Several such cars in one shop, so that facts also collide with one another's. */
export function wildShop(seed: number, cars: number) {
  const shop = seedShop('2026-06-03T09:17:30Z');
  const all = Array.from({ length: cars }, (_, k) => wildCar(shop, seed * 1000 + k, `car${k}`));
  return { ...shop, jobs: all.map(({ job }) => job), events: all.flatMap(({ events }) => events) };
}

function wildCar(shop: Book, seed: number, jobId: string) {
  const next = random(seed);
  const pick = <T>(list: readonly T[]): T => list[next(list.length)]!;
  const recipe = pick(shop.recipes);
  const people = () => [pick(shop.technicians).id];
  const begin = Date.parse('2026-06-01T06:00:00Z');
  const count = next(25);
  const times = Array.from({ length: count }, () => begin + next(51 * 60) * 60_000).sort((a, b) => a - b);
  // Mostly forward through the recipe, with slips.
  let step = 0;
  const events = times.map((occurredAt, sequence) => {
    step = Math.min(recipe.steps.length - 1, Math.max(0, step + pick([0, 0, 1, 1, 1, 2, -1])));
    const operation = recipe.steps[step]!.key;
    const fact = pick([
      () => ({ kind: sequence === 0 ? 'arrived' : 'moved', placeId: pick(shop.places).id }),
      () => ({ kind: 'started', operation, by: people() }),
      () => ({ kind: 'started', operation, by: people() }),
      () => ({ kind: 'finished', operation }),
      () => ({ kind: 'finished', operation }),
      () => ({ kind: 'interrupted', operation, reason: 'called away' }),
      () => ({ kind: 'resumed', operation: `${operation}.rest` }),
      () => ({ kind: 'handedOver', operation, to: people() }),
      () => ({ kind: 'abandoned', operation, reason: 'given up' }),
      () => ({ kind: 'failedFinalInspection', reworkMinutes: 45, note: '' }),
    ])();
    return FloorEvent.parse({
      jobId,
      clientId: `${jobId}-event-${sequence}`,
      occurredAt,
      recordedAt: occurredAt,
      sequence,
      fact,
    });
  });
  const job = aJob(recipe.id, {
    id: jobId,
    state: count === 0 ? 'booked' : 'inShop',
    condition: { soil: next(4), defects: next(5), brakeDust: next(4), minerals: next(2) === 0, tar: false },
    dropOffAt: pick([null, begin as Instant, Date.parse('2026-06-04T07:00:00Z') as Instant]),
    promise: pick([null, { pickupAt: Date.parse('2026-06-02T14:00Z'), givenAt: begin, confidencePercent: 90 }]),
  });
  return { job, events, recipe };
}
