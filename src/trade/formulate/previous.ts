import type { Mode, Operation, Previous } from '../../engine/problem/problem.ts';
import type { TechnicianId } from '../model/ids.ts';
import type { PlannedOperation } from '../model/plan.ts';
import type { Instant } from '../model/time.ts';
import type { FormulatedOperation } from './formulation.ts';
import type { Frame } from './frame.ts';
import type { ProblemDraft } from './problem-draft.ts';

/** What the last plan said of the operations that are still to come, where it can still be said. */
export function previousOf(
  frame: Frame,
  draft: ProblemDraft,
  people: readonly (TechnicianId | null)[],
): { readonly previous?: Previous } {
  const { previousPlan } = frame.book;
  if (previousPlan === null) return {};
  const planned: Planned = new Map();
  for (const one of previousPlan.operations) planned.set(`${one.jobId} ${one.operation}`, one);
  const operations: Said[] = [];
  for (const [k, operation] of draft.operations.entries()) {
    operations.push(saidOf(frame, operation, draft.formulatedOperations[k]!, planned, people));
  }
  return { previous: { operations } };
}

type Planned = Map<string, PlannedOperation>;
type Said = Previous['operations'][number];

function saidOf(
  { book, axis, placeOf }: Frame,
  { fixed, modes }: Operation,
  { jobId, key, part }: FormulatedOperation,
  planned: Planned,
  people: readonly (TechnicianId | null)[],
): Said {
  const known = planned.get(`${jobId} ${key}`);
  const before = known ?? (part === 'rest' ? planned.get(`${jobId} ${wholeOf(key)}`) : undefined);
  if (before === undefined || fixed?.by === 'fact') return null;
  const begins = known === undefined ? goesOnAt(before, book.now) : before.start;
  if (begins === undefined) return null;
  const start = axis.toMinute(begins, 'floor');
  const mode = sameWay(modes, before, people, before.placeId === null ? undefined : placeOf.get(before.placeId));
  return start < 0 || mode < 0 ? null : { start, mode };
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

/** The mode with the same people, in the same place where that matters; -1 when there is none. */
function sameWay(
  modes: readonly Mode[],
  before: PlannedOperation,
  people: readonly (TechnicianId | null)[],
  place: number | undefined,
): number {
  const crew = [...before.people].sort().join();
  for (const [k, { uses, places }] of modes.entries()) {
    if (places !== undefined && place !== undefined && !places.includes(place)) continue;
    if (crewOf(uses, people) === crew) return k;
  }
  return -1;
}

function crewOf(uses: Mode['uses'], people: readonly (TechnicianId | null)[]): string {
  const crew: TechnicianId[] = [];
  for (const { resource } of uses) {
    const id = people[resource];
    if (id != null) crew.push(id);
  }
  return crew.sort().join();
}
