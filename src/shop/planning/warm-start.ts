import type {
  Schedule,
  PlannedOperation as ScheduledOperation,
  PlannedStay as ScheduledStay,
} from '../../engine/problem/solution.ts';
import type { Formulation } from '../../trade/formulate/formulation.ts';
import { wholeOf } from '../../trade/formulate/previous.ts';
import type { Plan } from '../../trade/model/plan.ts';

/**
 * What a plan says, as a schedule to start a search from. Operations are those the formulation recognises of its book's
 * previous plan; stays are read off the work done in them and the moves between them. It need not obey the rules any
 * more: the solver keeps of it what does.
 */
export function warmStartOf(formulation: Formulation, plan: Plan): Schedule {
  const { problem, axis, places } = formulation;
  const planned = new Map(plan.operations.map((each) => [`${each.jobId} ${each.operation}`, each]));
  const hasCome = new Set(problem.stays.filter(({ fixed }) => fixed !== undefined).map(({ move }) => move));
  const placeOf: number[] = [];
  const workIn: number[][] = problem.stays.map(() => []);
  const operations = formulation.operations.map(({ jobId, key, part, role }, o): ScheduledOperation | null => {
    const { fixed, stay } = problem.operations[o]!;
    const whole = part === 'rest' ? planned.get(`${jobId} ${wholeOf(key)}`) : undefined;
    const before = planned.get(`${jobId} ${key}`) ?? whole;
    placeOf.push(before?.placeId == null ? -1 : places.indexOf(before.placeId));
    const said = problem.previous?.operations[o];
    const isFact = fixed?.by === 'fact';
    if (!isFact && (before === undefined || said == null)) return null;
    // Where a car has come to meanwhile is told by the facts.
    if (!isFact && role === 'move' && said!.start < problem.now && hasCome.has(o)) return null;
    if (stay !== undefined) workIn[stay]!.push(o);
    if (isFact) return { start: fixed.start, end: fixed.end ?? fixed.start, mode: fixed.mode ?? 0 };
    return { start: said!.start, end: axis.toMinute(before!.end, 'floor'), mode: said!.mode };
  });
  const firstPlace = new Map<string, { place: number; from: number }>();
  for (const { jobId, placeId, from } of plan.stays) {
    if (firstPlace.has(jobId)) continue;
    firstPlace.set(jobId, { place: places.indexOf(placeId), from: axis.toMinute(from, 'floor') });
  }
  const read: Reading = { formulation, operations, workIn, placeOf };
  const stays: (ScheduledStay | null)[] = problem.stays.map(() => null);
  for (const [j, { handover }] of problem.jobs.entries()) {
    const present = presentStays(read, j, firstPlace.get(formulation.jobs[j]!.job.id));
    const last = handover === undefined ? null : operations[handover];
    for (const [k, { stay, place, from }] of present.entries()) {
      stays[stay] = { place, from, to: present[k + 1]?.from ?? Math.max(from, last?.end ?? from) };
    }
  }
  return { operations, stays };
}

interface Reading {
  readonly formulation: Formulation;
  readonly operations: readonly (ScheduledOperation | null)[];
  /** Operations that are in the schedule, by stay. */
  readonly workIn: readonly (readonly number[])[];
  /** Where the plan had each operation; -1 when it does not say. */
  readonly placeOf: readonly number[];
}

interface Present {
  readonly stay: number;
  readonly place: number;
  readonly from: number;
}

/** The stays of a job that the plan has: where work is done or a move leads, and where a car waits from drop-off on. */
function presentStays(
  { formulation, operations, workIn, placeOf }: Reading,
  j: number,
  first: { readonly place: number; readonly from: number } | undefined,
): Present[] {
  const { problem } = formulation;
  const { stays, arrival } = problem.jobs[j]!;
  const dropOff = arrival === undefined ? undefined : operations[arrival]?.start;
  const present: Present[] = [];
  for (const stay of stays) {
    const { move, fixed, optional, places } = problem.stays[stay]!;
    const moved = move === undefined ? null : operations[move];
    const waits = present.length === 0 && !optional && first !== undefined && places.includes(first.place);
    const place =
      fixed?.place ??
      workIn[stay]!.map((o) => placeOf[o]!).find((known) => known >= 0) ??
      (moved != null ? placeOf[move!]! : waits ? first.place : -1);
    if (place < 0) continue;
    const before = present.at(-1);
    const left = before && Math.max(before.from, ...workIn[before.stay]!.map((o) => operations[o]!.end));
    const from = fixed?.from ?? moved?.end ?? left ?? dropOff ?? first?.from ?? 0;
    present.push({ stay, place, from });
  }
  return present;
}
