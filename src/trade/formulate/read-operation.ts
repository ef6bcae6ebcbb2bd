import type { Lag, Mode, Problem } from '../../engine/problem/problem.ts';
import type { Schedule } from '../../engine/problem/solution.ts';
import type { PlaceId, TechnicianId } from '../model/ids.ts';
import type { PlannedOperation } from '../model/plan.ts';
import type { Instant } from '../model/time.ts';
import type { Visit } from './floor-record.ts';
import type { Formulation } from './formulation.ts';
import { workedStretches } from './worked-stretches.ts';

type Pieces = PlannedOperation['pieces'];
type Planned = NonNullable<Schedule['operations'][number]>;

/** What a schedule says of one operation; `windows` as `windowsInto` gives them. */
export function readOperation(
  formulation: Formulation,
  schedule: Schedule,
  index: number,
  windows: ReadonlyMap<number, readonly Lag[]>,
): PlannedOperation {
  const { problem, axis } = formulation;
  const operation = problem.operations[index]!;
  const about = formulation.operations[index]!;
  const planned = schedule.operations[index]!;
  const mode = operation.modes[planned.mode]!;
  const isFact = operation.fixed?.by === 'fact';
  const isRecorded = isFact && about.state !== 'underWay';
  const { people, sharePercent } = crewOf(mode, formulation);
  return {
    jobId: about.jobId,
    operation: about.key,
    kind: about.kind,
    label: about.label,
    start: axis.toInstant(planned.start),
    end: axis.toInstant(planned.end),
    pieces: isRecorded ? recordedPieces(formulation, index) : plannedPieces(formulation, mode, planned),
    placeId: placeOf(formulation, schedule, index),
    people,
    sharePercent,
    state: about.state,
    remedy: about.role === 'remedy',
    windowClosesAt: isFact ? null : windowEnd(formulation, schedule, planned, windows.get(index) ?? []),
  };
}

/** The people of a mode, and the most of anybody's time that it takes. */
function crewOf({ uses }: Mode, formulation: Formulation): Pick<PlannedOperation, 'people' | 'sharePercent'> {
  const people: TechnicianId[] = [];
  let most = 0;
  for (const { resource, amount } of uses) {
    const person = formulation.people[resource];
    if (person == null) continue;
    people.push(person);
    most = Math.max(most, amount);
  }
  return { people, sharePercent: Math.min(100, most) };
}

function plannedPieces({ problem, axis }: Formulation, mode: Mode, { start, end }: Planned): Pieces {
  const pieces: Pieces = [];
  for (const { from, to } of workedStretches(problem, mode, start, end)) {
    pieces.push({ from: axis.toInstant(from), to: axis.toInstant(to) });
  }
  return pieces;
}

/** When the first of the windows closes that lead to an operation; null when none is to be kept. */
function windowEnd(
  { axis }: Formulation,
  schedule: Schedule,
  planned: Planned,
  windows: readonly Lag[],
): Instant | null {
  let first = Number.POSITIVE_INFINITY;
  for (const { from, to, max, remedy } of windows) {
    const before = schedule.operations[from.operation];
    if (before == null || (remedy !== undefined && areAllPlanned(remedy, schedule))) continue;
    const minute = (from.edge === 'start' ? before.start : before.end) + max!;
    first = Math.min(first, to.edge === 'start' ? minute : minute - (planned.end - planned.start));
  }
  return first === Number.POSITIVE_INFINITY ? null : axis.toInstant(first);
}

function areAllPlanned(operations: readonly number[], schedule: Schedule): boolean {
  for (const one of operations) if (schedule.operations[one] == null) return false;
  return true;
}

/** Lags with a maximum, by the operation they lead to. */
export function windowsInto(lags: readonly Lag[]): Map<number, Lag[]> {
  const into = new Map<number, Lag[]>();
  for (const lag of lags) {
    if (lag.max === undefined) continue;
    const known = into.get(lag.to.operation);
    if (known === undefined) into.set(lag.to.operation, [lag]);
    else known.push(lag);
  }
  return into;
}

function recordedPieces({ operations, problem, axis }: Formulation, index: number): Pieces {
  const { record, part } = operations[index]!;
  const { start, end } = problem.operations[index]!.fixed!;
  const whole = { from: axis.toInstant(start), to: axis.toInstant(end!) };
  if (record === undefined) return start < end! ? [whole] : [];
  if (part !== 'done' && record.state !== 'finished' && record.state !== 'abandoned') return [whole];
  const pieces: Pieces = [];
  for (const { from, to } of record.pieces) if (to !== null) pieces.push({ from, to });
  return pieces;
}

function placeOf({ problem, operations, jobs, places, axis }: Formulation, schedule: Schedule, index: number) {
  const { stay, job } = problem.operations[index]!;
  if (stay !== undefined) {
    const taken = schedule.stays[stay];
    return taken == null ? null : places[taken.place]!;
  }
  if (operations[index]!.role === 'move') {
    const into = stayMovedInto(problem.stays, index);
    const taken = into < 0 ? null : schedule.stays[into];
    return taken == null ? null : places[taken.place]!;
  }
  return placeAt(jobs[job]!.visits, axis.toInstant(schedule.operations[index]!.start));
}

function stayMovedInto(stays: Problem['stays'], move: number): number {
  for (let k = 0; k < stays.length; k++) if (stays[k]!.move === move) return k;
  return -1;
}

/** Where a car stood in the minute that begins at an instant. */
function placeAt(visits: readonly Visit[], start: Instant): PlaceId | null {
  for (let k = visits.length - 1; k >= 0; k--) if (visits[k]!.from <= start + 59_999) return visits[k]!.placeId;
  return null;
}
