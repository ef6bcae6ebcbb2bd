import { check } from '../../engine/check/check.ts';
import type { Schedule } from '../../engine/problem/solution.ts';
import { solve } from '../../engine/solve.ts';
import type { JobBlame } from '../../promise/blame/blame-tally.ts';
import { formulatedInput } from '../../promise/outlook/formulated-input.ts';
import { earliestPromise } from '../../promise/simulate/promise-time.ts';
import { sampleQuantile } from '../../promise/simulate/sample-quantile.ts';
import { simulate } from '../../promise/simulate/simulate.ts';
import type { Book } from '../../trade/formulate/book.ts';
import type { Formulation } from '../../trade/formulate/formulation.ts';
import type { JobId } from '../../trade/model/ids.ts';
import type { Instant } from '../../trade/model/time.ts';
import { carName } from '../jobs/job-view.ts';
import { formulateWithout, setAsideBefore } from '../planning/formulate-without.ts';
import { warmStartOf } from '../planning/warm-start.ts';
import type { Blame } from './promise-views.ts';

/** What a simulation says of one planned car. */
export interface CarForecast {
  readonly jobId: JobId;
  /** As likely to be ready earlier as later. */
  readonly medianReadyAt: Instant;
  /** Ready by then with 90 %. */
  readonly surelyReadyAt: Instant;
  /** Probability of the promise, in percent to one decimal; null without one. */
  readonly probabilityPercent: number | null;
  /** The earliest pickup as sure as the shop promises, and how sure; null beyond the hours known. */
  readonly earliest: { readonly pickupAt: Instant; readonly percent: number } | null;
  readonly blame: Blame;
}

/** A whole plan carried out many times. Plain data, so that it travels from a worker. */
export interface PlanOutlook {
  readonly cars: readonly CarForecast[];
  /** Authorised overtime worked, and minutes stayed on past hours, mean over all runs. */
  readonly overtimeMinutes: number;
  readonly stayedOnMinutes: number;
}

const SCENARIOS = 400;

/** Carries out the plan that stands in a book, from now on, with durations as they are believed. Cars set aside are left out. */
export function planOutlook(book: Book, seed: number): PlanOutlook {
  const formulation = formulateWithout(book, setAsideBefore(book));
  const schedule = standing(formulation, book, seed);
  if (schedule === null) return { cars: [], overtimeMinutes: 0, stayedOnMinutes: 0 };
  const { problem, axis } = formulation;
  const { jobs, overtime, stayedOn } = simulate(
    formulatedInput(book, formulation, schedule, { scenarios: SCENARIOS, seed }),
  );
  const instant = (minute: number) => axis.toInstant(Math.min(minute, problem.horizon));
  const confidence = book.shop.promiseConfidencePercent / 100;
  const cars = formulation.jobs.flatMap(({ job }, j): CarForecast[] => {
    if (problem.jobs[j]!.stays.every((stay) => schedule.stays[stay] === null)) return [];
    const { ready, promiseKept, blame } = jobs[j]!;
    const earliest = earliestPromise(
      ready,
      confidence,
      problem.jobs[j]!.pickupOpen ?? [{ from: 0, to: problem.horizon }],
    );
    return [
      {
        jobId: job.id,
        medianReadyAt: instant(sampleQuantile(ready, 0.5)),
        surelyReadyAt: instant(sampleQuantile(ready, 0.9)),
        probabilityPercent: promiseKept === null ? null : percent(promiseKept),
        earliest:
          earliest === null ? null : { pickupAt: axis.toInstant(earliest.at), percent: percent(earliest.probability) },
        blame: blameInWords(blame, formulation),
      },
    ];
  });
  return {
    cars,
    overtimeMinutes: Math.round(overtime.meanMinutes),
    stayedOnMinutes: Math.round(stayedOn.meanMinutes),
  };
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
