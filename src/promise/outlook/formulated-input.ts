import type { Schedule } from '../../engine/problem/solution.ts';
import { localDate } from '../../trade/calendar/local-instant.ts';
import type { Book } from '../../trade/formulate/book.ts';
import type { Formulation } from '../../trade/formulate/formulation.ts';
import type { LocalDate } from '../../trade/model/time.ts';
import type { DayVariation } from '../../trade/work-content/learned-from-floor.ts';
import { threePoint } from '../../trade/work-content/spread.ts';
import { workFacts } from '../../trade/work-content/work-facts.ts';
import { streamOf } from '../simulate/seeded-draws.ts';
import type { ExecutionRules, SimulationInput, Surprise, WorkFactor } from '../simulate/simulation-input.ts';
import { luckAfter } from '../spread/day-runs.ts';
import { durationModel } from '../spread/duration-model.ts';
import { fromMoments } from '../spread/log-normal.ts';
import { conditionOf } from './condition-of.ts';
import { tradeBelief } from './trade-belief.ts';

export interface OutlookTerms {
  readonly rules?: Partial<ExecutionRules>;
  /** Index of a job: only it and what it waits for is carried out. Its luck is the same whatever its id. */
  readonly asked?: number;
  readonly scenarios: number;
  readonly thrift?: SimulationInput['thrift'];
  readonly seed: number;
}

/** Rework after a failed final inspection: 30 to 90 minutes, common practice. */
const rework = threePoint(30, 60, 90);
const reworkMinutes = fromMoments(rework.mean, rework.standardDeviation ** 2);
/** A scope that grows at the inspection asks for about half as much compounding again; common practice. */
const MORE_COMPOUNDING = 0.5;
const MORE_COMPOUNDING_DEVIATION = 0.3;
const DAY_MS = 86_400_000;
const certain: WorkFactor = { logMean: 0, logDeviation: 0 };

/**
 * A shop's plan as input of the simulation: every operation with the factor its kind of work, its people and its condition
 * have, times of a data sheet as they are, a final inspection that may fail, and a scope that may grow on clean paint. Luck is
 * named by job and operation, so that two plans of one book meet the same. A promise is kept when the car is ready for it: a
 * customer who comes later does not break it.
 */
export function formulatedInput(
  book: Pick<Book, 'shop' | 'learned' | 'norms'>,
  formulation: Formulation,
  schedule: Schedule,
  { rules, asked, scenarios, thrift, seed }: OutlookTerms,
): SimulationInput {
  const { problem, jobs, operations, people } = formulation;
  const learned = book.learned ?? tradeBelief(book.shop, book.norms);
  const model = durationModel(learned.durations);
  const facts = jobs.map(({ job }) => workFacts(job, book.shop, undefined, book.norms));
  const luckOf = (jobId: string) => (asked !== undefined && jobId === jobs[asked]!.job.id ? 'asked' : jobId);
  const personOf = (o: number): string | null => {
    const planned = schedule.operations[o];
    if (planned == null) return null;
    const uses = problem.operations[o]!.modes[planned.mode]!.uses;
    return uses.map(({ resource }) => people[resource]).find((id) => id != null) ?? null;
  };
  const isOpen = (o: number) => operations[o]!.state !== 'finished' && schedule.operations[o] != null;
  const failures = operations.flatMap(({ kind, jobId }, o): Surprise[] => {
    if (kind !== 'finalInspection' || !isOpen(o)) return [];
    const effects = [{ operation: o, extraWork: reworkMinutes }];
    return [{ probability: learned.inspectionFails, effects, stream: streamOf(`${luckOf(jobId)} fails inspection`) }];
  });
  const compounding = new Map<number, number[]>();
  for (const [o, { kind }] of operations.entries()) {
    const { job } = problem.operations[o]!;
    if (kind !== 'compound' || jobs[job]!.job.inspection !== null || !isOpen(o)) continue;
    compounding.set(job, [...(compounding.get(job) ?? []), o]);
  }
  const growths = [...compounding].map(([job, some]): Surprise => {
    const effects = some.map((o) => {
      const { work } = problem.operations[o]!.modes[schedule.operations[o]!.mode]!;
      const logMean = Math.log(Math.max(1, MORE_COMPOUNDING * work));
      return { operation: o, extraWork: { logMean, logDeviation: MORE_COMPOUNDING_DEVIATION } };
    });
    const stream = streamOf(`${luckOf(jobs[job]!.job.id)} asks for more`);
    return { probability: learned.scopeChanges, effects, stream };
  });
  return {
    problem,
    schedule,
    keptBy: 'ready',
    ...(asked === undefined ? {} : { of: [asked] }),
    factors: operations.map(({ kind, step }, o) => {
      if (step?.duration.by === 'dataSheet') return certain;
      const condition = conditionOf(kind, facts[problem.operations[o]!.job]!, book.norms);
      return model.factorOf(kind, personOf(o), condition);
    }),
    streams: operations.map(({ jobId, key }) => streamOf(`${luckOf(jobId)} ${key}`)),
    surprises: [...failures, ...growths],
    rules: {
      queues: 'fillingGaps',
      ...model.ofDays,
      ...luckToday(learned.durations.ofDay, localDate(formulation.now, book.shop.timeZone)),
      ...rules,
    },
    spreadFactor: learned.spreadFactor,
    scenarios,
    ...(thrift === undefined ? {} : { thrift }),
    seed,
  };
}

/** A slow week is felt in what is said of the days after it, the less the longer ago. */
function luckToday({ lately, runs }: DayVariation, today: LocalDate): Pick<ExecutionRules, 'today'> {
  if (lately === undefined || runs === undefined) return {};
  const days = Math.round((Date.parse(today) - Date.parse(lately.day)) / DAY_MS);
  return { today: luckAfter(lately, runs, Math.max(0, days)) };
}
