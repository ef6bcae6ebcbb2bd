import type { Mode, Previous } from '../../engine/problem/problem.ts';
import type { TechnicianId } from '../model/ids.ts';
import type { PlannedOperation } from '../model/plan.ts';
import type { Instant } from '../model/time.ts';
import type { Frame } from './frame.ts';
import type { ProblemDraft } from './problem-draft.ts';

/** What the last plan said of the operations that are still to come, where it can still be said. */
export function previousOf(
  { book, axis, placeOf }: Frame,
  draft: ProblemDraft,
  people: readonly (TechnicianId | null)[],
): { readonly previous?: Previous } {
  if (book.previousPlan === null) return {};
  const planned = new Map(book.previousPlan.operations.map((one) => [`${one.jobId} ${one.operation}`, one]));
  const operations = draft.operations.map((operation, index) => {
    const { jobId, key, part } = draft.formulatedOperations[index]!;
    const known = planned.get(`${jobId} ${key}`);
    const before = known ?? (part === 'rest' ? planned.get(`${jobId} ${wholeOf(key)}`) : undefined);
    if (before === undefined || operation.fixed?.by === 'fact') return null;
    const begins = known === undefined ? goesOnAt(before, book.now) : before.start;
    if (begins === undefined) return null;
    const start = axis.toMinute(begins, 'floor');
    const mode = sameWay(
      operation.modes,
      before,
      people,
      before.placeId === null ? undefined : placeOf.get(before.placeId),
    );
    return start < 0 || mode < 0 ? null : { start, mode };
  });
  return { previous: { operations } };
}

/** The key of the work that a rest is the rest of. */
export function wholeOf(key: string): string {
  return key.replace(/\.rest$/, '');
}

/** When a plan has work that is interrupted now go on; undefined when it has it done by then. */
function goesOnAt({ pieces }: PlannedOperation, now: Instant): Instant | undefined {
  const next = pieces.find(({ to }) => to > now);
  return next && (Math.max(next.from, now) as Instant);
}

/** The mode with the same people, in the same place where that matters. */
function sameWay(
  modes: readonly Mode[],
  before: PlannedOperation,
  people: readonly (TechnicianId | null)[],
  place: number | undefined,
): number {
  const crew = [...before.people].sort().join();
  return modes.findIndex(({ uses, places }) => {
    if (places !== undefined && place !== undefined && !places.includes(place)) return false;
    return (
      uses
        .map(({ resource }) => people[resource])
        .filter((id) => id != null)
        .sort()
        .join() === crew
    );
  });
}
