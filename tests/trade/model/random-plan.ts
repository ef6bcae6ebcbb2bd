import fc from 'fast-check';
import { Plan } from '../../../src/trade/model/plan.ts';

const HOUR = 3_600_000;
const MONDAY = Date.UTC(2026, 2, 2);

export const JOBS = ['j1', 'j2', 'j3'];
export const PLACES = ['bay1', 'bay2'];
export const TECHNICIANS = ['ann'];

/** A stretch of a place in hours, whose it is, and the work done in it. */
const visit = fc.record({
  job: fc.integer({ min: 0, max: JOBS.length - 1 }),
  hours: fc.integer({ min: 1, max: 4 }),
  gap: fc.integer({ min: 0, max: 2 }),
  work: fc.array(fc.constantFrom('wash', 'polish', 'wash.2'), { maxLength: 2 }),
  attended: fc.boolean(),
});

/**
 * Plans of a few jobs, places and operations in which no place is taken twice: small, so that two of them often share work,
 * and have the same work at other hours, in another place, by other people or not at all.
 */
export const randomPlan: fc.Arbitrary<Omit<Plan, 'version'>> = fc
  .tuple(fc.array(visit, { maxLength: 4 }), fc.array(visit, { maxLength: 4 }), fc.integer({ min: 0, max: 9 }))
  .map(([inBay1, inBay2, seed]) => {
    const stays: object[] = [];
    const operations = new Map<string, object>();
    const jobs = new Map<string, object>();
    for (const [place, visits] of [inBay1, inBay2].entries()) {
      let from = MONDAY + 8 * HOUR;
      for (const { job, hours, gap, work, attended } of visits) {
        from += gap * HOUR;
        const to = from + hours * HOUR;
        const jobId = JOBS[job]!;
        stays.push({ jobId, placeId: PLACES[place], from, to });
        for (const operation of work) {
          operations.set(`${jobId} ${operation}`, {
            ...{ jobId, operation, kind: 'contactWash', label: operation, start: from, end: to },
            ...{ pieces: [{ from, to }], placeId: PLACES[place], people: attended ? TECHNICIANS : [] },
            ...{ sharePercent: 100, state: 'planned', remedy: false, windowClosesAt: attended ? to : null },
          });
        }
        jobs.set(jobId, { jobId, dropOffAt: from, readyAt: to, pickupAt: to, lateMinutes: hours });
        from = to;
      }
    }
    const about = { version: 0, madeAt: MONDAY, reason: 'random', seed, interrupted: false };
    const objective = [{ tier: 'lateMinutes', value: seed, bound: 0 }];
    return Plan.parse({ ...about, objective, stays, operations: [...operations.values()], jobs: [...jobs.values()] });
  });
