import type { Problem } from '../problem/problem.ts';
import { edgeTime, isFact, type PlanRead, type Stop } from './plan-read.ts';
import { carName, type Report } from './violation.ts';

interface StillSpan {
  readonly from: number;
  readonly to: number;
  readonly began: boolean;
}

/**
 * Ensures that no car moves, arrives or is picked up between final wipe and move-safe; one that has come by the very minute may be
 * wiped from that minute on. O(stills x stays of the job).
 */
export function checkStills({ problem, schedule, itineraries }: PlanRead, report: Report): void {
  for (const still of problem.stills) {
    const begins = schedule.operations[still.from.operation];
    const ends = schedule.operations[still.to.operation];
    if (begins == null || ends == null) continue;
    const from = edgeTime(begins, still.from.edge);
    const to = edgeTime(ends, still.to.edge);
    const began = isFact(problem, still.from.operation);
    if (to <= from) continue;
    const span: StillSpan = { from, to, began };
    for (const stop of itineraries[still.job]!) {
      const { first, last, from: came, to: left, arrivalIsFact, departureIsFact } = stop;
      if (first && disturbs(span, came, arrivalIsFact ? came : came + 1, arrivalIsFact)) {
        reportMove(problem, span, stop, came, [], report);
      }
      if (last && disturbs(span, left, left + 1, departureIsFact)) reportMove(problem, span, stop, left, [], report);
      if (stop.move === undefined || first) continue;
      const move = schedule.operations[stop.move]!;
      if (disturbs(span, move.start, Math.max(move.end, move.start + 1), isFact(problem, stop.move))) {
        reportMove(problem, span, stop, move.start, [stop.move], report);
      }
    }
  }
}

/** Whether a car that moves from `start` to `end` does so while it must stand still; two facts do not judge one another. */
function disturbs({ from, to, began }: StillSpan, start: number, end: number, settled: boolean): boolean {
  return !(settled && began) && start < to && end > from;
}

function reportMove(
  problem: Problem,
  { from, to }: StillSpan,
  stop: Stop,
  minute: number,
  operations: readonly number[],
  report: Report,
): void {
  const text = `${carName(problem, stop.stay)} moves at minute ${minute}; it must stand still from ${from} to ${to}.`;
  report({ invariant: 2, rule: 'move-unsafe', text, operations, stays: [stop.stay] });
}
