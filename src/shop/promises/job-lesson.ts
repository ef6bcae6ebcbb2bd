import type { PromiseOutcome } from '../../promise/calibrate/promise-outcome.ts';
import { conditionOf } from '../../promise/outlook/condition-of.ts';
import type { RecordedDuration } from '../../promise/spread/recorded-duration.ts';
import { localDate } from '../../trade/calendar/local-instant.ts';
import { type DoneWork, doneWork } from '../../trade/formulate/done-work.ts';
import { readFloor } from '../../trade/formulate/floor-record.ts';
import type { TechnicianId } from '../../trade/model/ids.ts';
import type { FloorEvent, Job, PickupPromise } from '../../trade/model/job.ts';
import type { Technician } from '../../trade/model/people.ts';
import type { Recipe } from '../../trade/model/recipe.ts';
import type { Shop } from '../../trade/model/shop.ts';
import type { Instant } from '../../trade/model/time.ts';
import type { WorkNorms } from '../../trade/work-content/work-norms.ts';
import { whatHappened } from '../floor/what-happened.ts';
import { bookedPasses } from '../inspection/booked-passes.ts';
import { readyTime } from '../utilisation/promises-of-week.ts';

/** A promise that has been kept or broken. */
export interface ScoredPromise extends PromiseOutcome {
  readonly givenAt: Instant;
  readonly spreadFactor: number;
}

/** What one car teaches. */
export interface JobLesson {
  readonly records: readonly (RecordedDuration & { readonly job: Job; readonly work: DoneWork })[];
  /** Final inspections, and how many of them failed. */
  readonly inspected: number;
  readonly failed: number;
  /** Whether it was inspected on clean paint, and whether more was then corrected than booked. */
  readonly corrected: boolean;
  readonly grew: boolean;
  readonly promises: readonly ScoredPromise[];
}

/** How things are done where the car was. */
export interface Workshop {
  readonly shop: Shop;
  readonly technicians: ReadonlyMap<TechnicianId, Technician>;
  readonly norms: WorkNorms;
}

/** Reads what the facts of a car teach; what has not ended teaches nothing yet. */
export function jobLesson(
  job: Job,
  recipe: Recipe,
  events: readonly FloorEvent[],
  { shop, technicians, norms }: Workshop,
  now: Instant,
): JobLesson {
  const record = readFloor(events, now);
  const { facts, work } = doneWork({ job, recipe, record }, shop, technicians, norms);
  const final = work.filter(({ kind }) => kind === 'finalInspection').length;
  const scope = job.scope?.answer;
  return {
    records: work.map((done) => ({
      id: `${job.id} ${done.operation}`,
      kind: done.kind,
      person: done.people[0] ?? null,
      condition: conditionOf(done.kind, facts, norms),
      day: localDate(done.startedAt, shop.timeZone),
      plannedMinutes: done.plannedMinutes,
      workedMinutes: done.workedMinutes,
      job,
      work: done,
    })),
    inspected: Math.max(final, record.failures.length),
    failed: record.failures.length,
    corrected: job.inspection !== null && recipe.corrects,
    grew:
      recipe.corrects &&
      (scope === 'approved' || scope === 'defaulted') &&
      job.scope!.correctionPasses > bookedPasses(job),
    promises: scored(job, readyTime({ job, recipe, happened: whatHappened(events, now) }), mainPerson(work)),
  };
}

/** Every promise the customer was told of this work, also those that were taken back. */
function scored(job: Job, readyAt: Instant | null, person: string | null): ScoredPromise[] {
  if (readyAt === null || job.promise === null || (job.state !== 'done' && job.state !== 'inShop')) return [];
  return [...(job.formerPromises ?? []), job.promise].flatMap((promise: PickupPromise) => {
    const { pickupAt, medianReadyAt, confidencePercent, givenAt, spreadFactor = 1 } = promise;
    // What was told without a forecast cannot be held against one.
    if (medianReadyAt === undefined) return [];
    return [
      {
        confidence: Math.min(0.999, Math.max(0.001, confidencePercent / 100)),
        promisedAt: pickupAt / 60_000,
        medianAt: medianReadyAt / 60_000,
        achievedAt: readyAt / 60_000,
        recipe: job.recipeId,
        person,
        givenAt,
        spreadFactor,
      },
    ];
  });
}

/** Who did at least half of the work. */
function mainPerson(work: readonly DoneWork[]): string | null {
  const minutes = new Map<string, number>();
  let all = 0;
  for (const { people, workedMinutes } of work) {
    all += workedMinutes;
    if (people[0] !== undefined) minutes.set(people[0], (minutes.get(people[0]) ?? 0) + workedMinutes);
  }
  const most = [...minutes].sort((a, b) => b[1] - a[1])[0];
  return most !== undefined && 2 * most[1] >= all ? most[0] : null;
}
