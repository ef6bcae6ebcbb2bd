import type { Lag } from '../../engine/problem/problem.ts';
import type { Schedule } from '../../engine/problem/solution.ts';
import type { Axis } from '../calendar/axis.ts';
import type { PlaceId } from '../model/ids.ts';
import type { Plan, PlannedJob, PlannedOperation, PlannedStay } from '../model/plan.ts';
import type { Instant } from '../model/time.ts';
import type { Formulation } from './formulation.ts';
import { workedStretches } from './worked-stretches.ts';

type Pieces = PlannedOperation['pieces'];

/** What a plan says of itself beside the work. */
export type PlanMeta = Omit<Plan, 'operations' | 'stays' | 'jobs'>;

/**
 * Reads a schedule back as a plan of the trade. Past work and past places are in it as they were recorded. Operations
 * come in the order of their start.
 */
export function readPlan(formulation: Formulation, schedule: Schedule, meta: PlanMeta): Plan {
  const windows = windowsInto(formulation.problem.lags);
  const operations = schedule.operations
    .flatMap((planned, index) => (planned === null ? [] : [readOperation(formulation, schedule, index, windows)]))
    .sort((a, b) => a.start - b.start || a.end - b.end);
  return {
    ...meta,
    operations,
    stays: formulation.jobs.flatMap((_, index) => readStays(formulation, schedule, index)),
    jobs: formulation.jobs.map((_, index) => readJob(formulation, schedule, index)),
  };
}

/** What a schedule says of one job: as `readPlan`, at the cost of the one. */
export function readJobPlan(
  formulation: Formulation,
  schedule: Schedule,
  job: number,
): { readonly job: PlannedJob; readonly operations: PlannedOperation[]; readonly stays: PlannedStay[] } {
  const { problem } = formulation;
  const windows = windowsInto(problem.lags.filter(({ to }) => problem.operations[to.operation]!.job === job));
  const operations = problem.operations
    .flatMap((operation, index) => {
      if (operation.job !== job || schedule.operations[index] == null) return [];
      return [readOperation(formulation, schedule, index, windows)];
    })
    .sort((a, b) => a.start - b.start || a.end - b.end);
  return { job: readJob(formulation, schedule, job), operations, stays: readStays(formulation, schedule, job) };
}

function readOperation(
  formulation: Formulation,
  schedule: Schedule,
  index: number,
  windows: ReadonlyMap<number, readonly Lag[]>,
): PlannedOperation {
  const { problem, axis, people } = formulation;
  const operation = problem.operations[index]!;
  const about = formulation.operations[index]!;
  const planned = schedule.operations[index]!;
  const mode = operation.modes[planned.mode]!;
  const crew = mode.uses.filter(({ resource }) => people[resource] !== null);
  const isFact = operation.fixed?.by === 'fact';
  return {
    jobId: about.jobId,
    operation: about.key,
    kind: about.kind,
    label: about.label,
    start: axis.toInstant(planned.start),
    end: axis.toInstant(planned.end),
    pieces: isFact && about.state !== 'underWay' ? recordedPieces(formulation, index, axis) : plannedPieces(),
    placeId: placeOf(formulation, schedule, index),
    people: crew.map(({ resource }) => people[resource]!),
    sharePercent: Math.min(100, Math.max(0, ...crew.map(({ amount }) => amount))),
    state: about.state,
    remedy: about.role === 'remedy',
    windowClosesAt: isFact ? null : windowEnd(),
  };

  function plannedPieces(): Pieces {
    return workedStretches(problem, mode, planned.start, planned.end).map(({ from, to }) => ({
      from: axis.toInstant(from),
      to: axis.toInstant(to),
    }));
  }

  function windowEnd(): Instant | null {
    const closes = (windows.get(index) ?? []).flatMap(({ from, to, max, remedy }) => {
      const before = schedule.operations[from.operation];
      const madeGood = remedy?.every((one) => schedule.operations[one] != null) ?? false;
      if (before == null || madeGood) return [];
      const minute = (from.edge === 'start' ? before.start : before.end) + max!;
      return [to.edge === 'start' ? minute : minute - (planned.end - planned.start)];
    });
    return closes.length === 0 ? null : axis.toInstant(Math.min(...closes));
  }
}

/** Lags with a maximum, by the operation they lead to. */
function windowsInto(lags: readonly Lag[]): Map<number, Lag[]> {
  const into = new Map<number, Lag[]>();
  for (const lag of lags) {
    if (lag.max === undefined) continue;
    const known = into.get(lag.to.operation);
    if (known === undefined) into.set(lag.to.operation, [lag]);
    else known.push(lag);
  }
  return into;
}

function recordedPieces({ operations, problem }: Formulation, index: number, axis: Axis): Pieces {
  const { record, part } = operations[index]!;
  const { start, end } = problem.operations[index]!.fixed!;
  const whole = { from: axis.toInstant(start), to: axis.toInstant(end!) };
  if (record === undefined) return start < end! ? [whole] : [];
  const pieces = record.pieces.filter(({ to }) => to !== null).map(({ from, to }) => ({ from, to: to! }));
  return part === 'done' || record.state === 'finished' || record.state === 'abandoned' ? pieces : [whole];
}

function placeOf({ problem, operations, jobs, places, axis }: Formulation, schedule: Schedule, index: number) {
  const { stay, job } = problem.operations[index]!;
  if (stay !== undefined) {
    const taken = schedule.stays[stay];
    return taken == null ? null : places[taken.place]!;
  }
  if (operations[index]!.role === 'move') {
    const into = problem.stays.findIndex(({ move }) => move === index);
    const taken = into < 0 ? null : schedule.stays[into];
    return taken == null ? null : places[taken.place]!;
  }
  const start = axis.toInstant(schedule.operations[index]!.start);
  const visit = jobs[job]!.visits.findLast(({ from }) => from <= start + 59_999);
  return visit?.placeId ?? null;
}

function readStays({ problem, axis, jobs, places }: Formulation, schedule: Schedule, index: number): PlannedStay[] {
  const { job, visits } = jobs[index]!;
  const stays: PlannedStay[] = [];
  const add = (placeId: PlaceId, from: Instant, to: Instant) => {
    const last = stays.at(-1);
    if (last !== undefined && last.placeId === placeId && last.to === from) stays[stays.length - 1] = { ...last, to };
    else stays.push({ jobId: job.id, placeId, from, to });
  };
  for (const [k, { placeId, from }] of visits.slice(0, -1).entries()) add(placeId, from, visits[k + 1]!.from);
  for (const stay of problem.jobs[index]!.stays) {
    const planned = schedule.stays[stay];
    if (planned == null) continue;
    const actual = problem.stays[stay]!.fixed?.from === undefined ? undefined : visits.at(-1)?.from;
    add(places[planned.place]!, actual ?? axis.toInstant(planned.from), axis.toInstant(planned.to));
  }
  return stays;
}

function readJob({ problem, axis, jobs }: Formulation, schedule: Schedule, index: number): PlannedJob {
  const { job, visits, ready, handover } = jobs[index]!;
  const { stays, release, promise } = problem.jobs[index]!;
  const present = stays.map((stay) => schedule.stays[stay]).filter((stay) => stay != null);
  const first = present.at(0)?.from ?? release;
  const last = present.at(-1)?.to ?? problem.now;
  const readyAt = (ready === undefined ? undefined : schedule.operations[ready]?.end) ?? last;
  const pickup = (handover === undefined ? undefined : schedule.operations[handover]?.start) ?? last;
  return {
    jobId: job.id,
    dropOffAt: visits[0]?.from ?? axis.toInstant(first),
    readyAt: axis.toInstant(readyAt),
    pickupAt: axis.toInstant(pickup),
    lateMinutes: promise === undefined ? 0 : Math.max(0, pickup - promise.at),
  };
}
