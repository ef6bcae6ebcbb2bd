import type {
  Schedule,
  PlannedOperation as ScheduledOperation,
  PlannedStay as ScheduledStay,
} from '../../engine/problem/solution.ts';
import type { Formulation } from '../../trade/formulate/formulation.ts';
import type { Plan, PlannedOperation } from '../../trade/model/plan.ts';

/**
 * What a plan says, as a schedule to start a search from. Operations are those the formulation recognises of its book's
 * previous plan; stays are read off the work done in them and the moves between them. It need not obey the rules any
 * more: the solver keeps of it what does.
 */
export function warmStartOf(formulation: Formulation, plan: Plan): Schedule {
  const { problem, axis } = formulation;
  const planned = new Map(plan.operations.map((each) => [`${each.jobId} ${each.operation}`, each]));
  const known = formulation.operations.map(({ jobId, key }) => planned.get(`${jobId} ${key}`));
  const operations = known.map((before, index): ScheduledOperation | null => {
    const said = problem.previous?.operations[index];
    const fixed = problem.operations[index]!.fixed;
    if (fixed?.by === 'fact') return { start: fixed.start, end: fixed.end ?? fixed.start, mode: fixed.mode ?? 0 };
    if (before === undefined || said == null) return null;
    return { start: said.start, end: axis.toMinute(before.end, 'floor'), mode: said.mode };
  });
  const stays: (ScheduledStay | null)[] = problem.stays.map(() => null);
  for (const [j, job] of problem.jobs.entries()) {
    const present = presentStays(formulation, plan, j, operations, known);
    const last = job.handover === undefined ? null : operations[job.handover];
    for (const [k, { stay, place, from }] of present.entries()) {
      const to = present[k + 1]?.from ?? Math.max(from, last?.end ?? from);
      stays[stay] = { place, from, to };
    }
  }
  return { operations, stays };
}

interface Present {
  readonly stay: number;
  readonly place: number;
  readonly from: number;
}

function presentStays(
  { problem, axis, places, jobs }: Formulation,
  plan: Plan,
  j: number,
  operations: readonly (ScheduledOperation | null)[],
  known: readonly (PlannedOperation | undefined)[],
): Present[] {
  const { stays, arrival } = problem.jobs[j]!;
  const told = plan.stays.filter((each) => each.jobId === jobs[j]!.job.id);
  const present: Present[] = [];
  for (const stay of stays) {
    const { move, fixed } = problem.stays[stay]!;
    const work = operations.flatMap((each, o) => (each !== null && problem.operations[o]!.stay === stay ? [o] : []));
    const moved = move === undefined ? null : operations[move];
    const byWork = work.map((o) => places.indexOf(known[o]?.placeId ?? ('' as never))).find((place) => place >= 0);
    const byMove = moved != null && move !== undefined ? places.indexOf(known[move]?.placeId ?? ('' as never)) : -1;
    const first = present.length === 0 && told[0] !== undefined ? places.indexOf(told[0].placeId) : -1;
    const waits = first >= 0 && problem.stays[stay]!.places.includes(first) && !problem.stays[stay]!.optional;
    const place = fixed?.place ?? byWork ?? (byMove >= 0 ? byMove : waits ? first : -1);
    if (place < 0) continue;
    const before = present.at(-1);
    const ends =
      before === undefined
        ? []
        : operations.flatMap((each, o) =>
            each !== null && problem.operations[o]!.stay === before.stay ? [each.end] : [],
          );
    const dropOff = arrival === undefined ? undefined : operations[arrival]?.start;
    const from =
      fixed?.from ??
      (moved != null ? moved.end : before !== undefined ? Math.max(before.from, ...ends) : undefined) ??
      dropOff ??
      (told[0] === undefined ? 0 : axis.toMinute(told[0].from, 'floor'));
    present.push({ stay, place, from });
  }
  return present;
}
