import type { Problem } from '../problem/problem.ts';
import { isFact } from './facts.ts';
import type { Gap, Instant, Logic } from './logic.ts';
import { edgeOf, endOf, type ModelledOperation, presentOf, startOf } from './modelled-operation.ts';
import type { Itinerary } from './stays.ts';

/**
 * Ensures that no car moves, is dropped off or is picked up between final wipe and move-safe: each move ends before, or
 * begins after, unless the span is void. A car that has come by the very minute may be wiped from that minute on.
 */
export function addStills(
  problem: Problem,
  operations: readonly ModelledOperation[],
  itineraries: readonly Itinerary[],
  logic: Logic,
): void {
  for (const { job, from, to } of problem.stills) {
    const begins = operations[from.operation]!;
    const ends = operations[to.operation]!;
    const began = isFact(problem, from.operation);
    const span = { from: edgeOf(begins, from.edge), to: edgeOf(ends, to.edge) };
    const both = [presentOf(logic, begins), presentOf(logic, ends)];
    const keep = (conditions: readonly number[], start: Instant, until: readonly Instant[], settled: boolean) => {
      if (began && settled) return;
      const before = until.map((instant): Gap => ({ from: instant, to: span.from, gap: 0 }));
      const after: Gap = { from: span.to, to: start, gap: 0 };
      const isVoid: Gap = { from: span.to, to: span.from, gap: 0 };
      logic.oneOf([...both, ...conditions], [before, [after], [isVoid]]);
    };
    const later = ({ half, offset }: Instant): Instant => ({ half, offset: offset + 1 });
    const { stays } = itineraries[job]!;
    const { handover } = problem.jobs[job]!;
    const leftAsFact = handover !== undefined && isFact(problem, handover);
    for (const stay of stays) {
      keep([stay.first], stay.from, [stay.arrivalIsFact ? stay.from : later(stay.from)], stay.arrivalIsFact);
      keep([stay.last], stay.to, [later(stay.to)], leftAsFact);
      if (stay.move === undefined || logic.isFalse(stay.moved)) continue;
      const move = operations[stay.move]!;
      // The first stay that is there is reached by drop-off, whatever moved the car before.
      keep(
        [stay.present, stay.first ^ 1, stay.moved],
        startOf(move),
        [endOf(move), later(startOf(move))],
        isFact(problem, stay.move),
      );
    }
  }
}
