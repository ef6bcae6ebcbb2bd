import { check } from '../../engine/check/check.ts';
import type { Schedule } from '../../engine/problem/solution.ts';
import { solve } from '../../engine/solve.ts';
import type { JobBlame } from '../../promise/blame/blame-tally.ts';
import { carOutlook } from '../../promise/outlook/car-outlook.ts';
import type { Book } from '../../trade/formulate/book.ts';
import { formulate } from '../../trade/formulate/formulate.ts';
import type { Formulation } from '../../trade/formulate/formulation.ts';
import type { JobId } from '../../trade/model/ids.ts';
import type { Instant } from '../../trade/model/time.ts';
import { carsInShop } from '../jobs/cars-in-shop.ts';
import { carName } from '../jobs/job-view.ts';
import { spansOfJobs } from '../planning/part-of-problem.ts';
import { setAsideBefore } from '../planning/set-aside.ts';
import { warmStartOf } from '../planning/warm-start.ts';
import { amongNeighbours } from './part-of-formulation.ts';
import type { Blame } from './promise-views.ts';

/** What a simulation says of one planned car. */
export interface CarForecast {
  readonly jobId: JobId;
  /** As likely to be ready earlier as later. */
  readonly medianReadyAt: Instant;
  /** Ready by then with 90 %. */
  readonly surelyReadyAt: Instant;
  /** Probability of the promise, in percent to one decimal. */
  readonly probabilityPercent: number;
  /** The earliest pickup as sure as the shop promises, and how sure; null beyond the hours known. */
  readonly earliest: { readonly pickupAt: Instant; readonly percent: number } | null;
  readonly blame: Blame;
}

/** What a simulation says of a plan's promises. Plain data, so that it travels from a worker. */
export interface PlanOutlook {
  readonly cars: readonly CarForecast[];
}

/** Of cars that come later than in so many days nothing is felt yet of what happens today. */
const FELT_DAYS = 10;

/**
 * Carries out the plan that stands in a book, from now on, with durations as they are believed: every promised car among its
 * neighbours, as it was simulated when it was promised. Cars set aside, and those that come after so many days, are left out.
 */
export function planOutlook(book: Book, seed: number, days = FELT_DAYS): PlanOutlook {
  const formulation = formulate(book, { aside: setAsideBefore(book), closuresOf: carsInShop(book.jobs) });
  const schedule = standing(formulation, book, seed);
  if (schedule === null) return { cars: [] };
  const { problem, axis } = formulation;
  const instant = (minute: number) => axis.toInstant(Math.min(minute, problem.horizon));
  const spans = spansOfJobs(problem, schedule);
  const until = problem.now + days * 1440;
  const cars = formulation.jobs.flatMap(({ job }, j): CarForecast[] => {
    if (job.promise === null || spans[j]!.from > until) return [];
    const part = amongNeighbours(formulation, schedule, j, spans);
    if (part === null) return [];
    const outlook = carOutlook(book, part.formulation, part.schedule, part.job);
    const earliest = outlook.earliest(book.shop.promiseConfidencePercent / 100);
    return [
      {
        jobId: job.id,
        medianReadyAt: instant(outlook.medianReady),
        surelyReadyAt: instant(outlook.readyWith(0.9)),
        probabilityPercent: percent(outlook.readyBy(axis.toMinute(job.promise.pickupAt, 'floor'))),
        earliest:
          earliest === null
            ? null
            : { pickupAt: axis.toInstant(earliest), percent: percent(outlook.readyBy(earliest)) },
        blame: blameInWords(outlook.blame, part.formulation),
      },
    ];
  });
  return { cars };
}

/** What happened meanwhile may have overtaken the plan: then it is put right as quickly as can be, as a replan will. */
function standing(formulation: Formulation, book: Book, seed: number): Schedule | null {
  if (book.previousPlan === null) return null;
  const schedule = warmStartOf(formulation, book.previousPlan);
  if (check(formulation.problem, schedule).length === 0) return schedule;
  return solve(formulation.problem, { seed, workLimit: 1, warmStart: schedule }).schedule;
}

/** So few percent of the late runs are nobody's fault. */
const WORTH_NAMING = 0.1;
const MOST_NAMED = 4;

function blameInWords(blame: JobBlame, { operations, places, people, problem, jobs }: Formulation): Blame {
  const nameOf = (kind: JobBlame['resources'][number]['kind'], about: number): string => {
    if (about < 0) return '';
    if (kind === 'place' || kind === 'tandem') return problem.places[about]?.name ?? places[about] ?? '';
    if (kind === 'person' || kind === 'equipment') return problem.resources[about]?.name ?? people[about] ?? '';
    return kind === 'air' ? (problem.zones[about] ?? '') : '';
  };
  return {
    operations: blame.operations
      .filter(({ shareOfLate, overrunMinutes }) => shareOfLate >= WORTH_NAMING && overrunMinutes >= 1)
      .slice(0, MOST_NAMED)
      .map(({ operation, shareOfLate, overrunMinutes }) => {
        const { jobId, key, label } = operations[operation]!;
        const { job } = jobs[problem.operations[operation]!.job]!;
        return {
          jobId,
          car: carName(job),
          operation: key,
          label,
          sharePercent: percent(shareOfLate),
          overrunMinutes: Math.round(overrunMinutes),
        };
      }),
    resources: blame.resources
      .filter(({ shareOfLate }) => shareOfLate >= WORTH_NAMING)
      .slice(0, MOST_NAMED)
      .map(({ kind, about, shareOfLate }) => ({ kind, name: nameOf(kind, about), sharePercent: percent(shareOfLate) })),
  };
}

const percent = (share: number): number => Math.round(share * 1000) / 10;
