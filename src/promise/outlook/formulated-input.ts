import type { Schedule } from '../../engine/problem/solution.ts';
import { localDate } from '../../trade/calendar/local-instant.ts';
import type { Book } from '../../trade/formulate/book.ts';
import type { Formulation } from '../../trade/formulate/formulation.ts';
import type { JobId } from '../../trade/model/ids.ts';
import type { LocalDate } from '../../trade/model/time.ts';
import type { DayVariation, LearnedFromFloor } from '../../trade/work-content/learned-from-floor.ts';
import { threePoint } from '../../trade/work-content/spread.ts';
import { type WorkFacts, workFacts } from '../../trade/work-content/work-facts.ts';
import { streamOf } from '../simulate/seeded-draws.ts';
import type { ExecutionRules, SimulationInput, Surprise, WorkFactor } from '../simulate/simulation-input.ts';
import { luckAfter } from '../spread/day-runs.ts';
import { DurationModel } from '../spread/duration-model.ts';
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
  const learned = book.learned ?? tradeBelief(book.shop, book.norms);
  const model = new DurationModel(learned.durations);
  const plan = { formulation, schedule, asked: asked === undefined ? null : formulation.jobs[asked]!.job.id };
  return {
    problem: formulation.problem,
    schedule,
    keptBy: 'ready',
    ...(asked === undefined ? {} : { of: [asked] }),
    factors: factorsOf(plan, book, model),
    streams: streamsOf(plan),
    surprises: [...failures(plan, learned), ...growths(plan, learned)],
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

/** A plan, and whose car is asked for. */
interface Planned {
  readonly formulation: Formulation;
  readonly schedule: Schedule;
  readonly asked: JobId | null;
}

const luckOf = ({ asked }: Planned, jobId: JobId): string => (jobId === asked ? 'asked' : jobId);

function isOpen({ formulation, schedule }: Planned, o: number): boolean {
  return formulation.operations[o]!.state !== 'finished' && schedule.operations[o] != null;
}

function factorsOf(plan: Planned, { shop, norms }: Pick<Book, 'shop' | 'norms'>, model: DurationModel): WorkFactor[] {
  const { problem, jobs, operations } = plan.formulation;
  const facts: WorkFacts[] = [];
  for (const { job } of jobs) facts.push(workFacts(job, shop, undefined, norms));
  const factors: WorkFactor[] = [];
  for (let o = 0; o < operations.length; o++) {
    const { kind, step } = operations[o]!;
    if (step?.duration.by === 'dataSheet') factors.push(certain);
    else {
      const condition = conditionOf(kind, facts[problem.operations[o]!.job]!, norms);
      factors.push(model.factorOf(kind, personOf(plan, o), condition));
    }
  }
  return factors;
}

function personOf({ formulation, schedule }: Planned, o: number): string | null {
  const planned = schedule.operations[o];
  if (planned == null) return null;
  for (const { resource } of formulation.problem.operations[o]!.modes[planned.mode]!.uses) {
    const person = formulation.people[resource];
    if (person != null) return person;
  }
  return null;
}

function streamsOf(plan: Planned): number[] {
  const streams: number[] = [];
  for (const { jobId, key } of plan.formulation.operations) streams.push(streamOf(`${luckOf(plan, jobId)} ${key}`));
  return streams;
}

function failures(plan: Planned, { inspectionFails }: LearnedFromFloor): Surprise[] {
  const { operations } = plan.formulation;
  const surprises: Surprise[] = [];
  for (let o = 0; o < operations.length; o++) {
    const { kind, jobId } = operations[o]!;
    if (kind !== 'finalInspection' || !isOpen(plan, o)) continue;
    const effects = [{ operation: o, extraWork: reworkMinutes }];
    const stream = streamOf(`${luckOf(plan, jobId)} fails inspection`);
    surprises.push({ probability: inspectionFails, effects, stream });
  }
  return surprises;
}

function growths(plan: Planned, { scopeChanges }: LearnedFromFloor): Surprise[] {
  const { problem, jobs, operations } = plan.formulation;
  const effectsOf = new Map<number, Surprise['effects'][number][]>();
  for (let o = 0; o < operations.length; o++) {
    const { job, modes } = problem.operations[o]!;
    if (operations[o]!.kind !== 'compound' || jobs[job]!.job.inspection !== null || !isOpen(plan, o)) continue;
    const { work } = modes[plan.schedule.operations[o]!.mode]!;
    const logMean = Math.log(Math.max(1, MORE_COMPOUNDING * work));
    const effect = { operation: o, extraWork: { logMean, logDeviation: MORE_COMPOUNDING_DEVIATION } };
    const known = effectsOf.get(job);
    if (known === undefined) effectsOf.set(job, [effect]);
    else known.push(effect);
  }
  const surprises: Surprise[] = [];
  for (const [job, effects] of effectsOf) {
    const stream = streamOf(`${luckOf(plan, jobs[job]!.job.id)} asks for more`);
    surprises.push({ probability: scopeChanges, effects, stream });
  }
  return surprises;
}

/** A slow week is felt in what is said of the days after it, the less the longer ago. */
function luckToday({ lately, runs }: DayVariation, today: LocalDate): Pick<ExecutionRules, 'today'> {
  if (lately === undefined || runs === undefined) return {};
  const days = Math.round((Date.parse(today) - Date.parse(lately.day)) / DAY_MS);
  return { today: luckAfter(lately, runs, Math.max(0, days)) };
}
