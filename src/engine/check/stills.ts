import { edgeTime, isFact, type PlanRead, type Stop } from './plan-read.ts';
import { carName, type Report } from './violation.ts';

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
    const judge = (stop: Stop, start: number, end: number, settled: boolean, operations: readonly number[]) => {
      if ((settled && began) || start >= to || end <= from) return;
      const text = `${carName(problem, stop.stay)} moves at minute ${start}; it must stand still from ${from} to ${to}.`;
      report({ invariant: 2, rule: 'move-unsafe', text, operations, stays: [stop.stay] });
    };
    for (const stop of itineraries[still.job]!) {
      const { first, last, from: came, to: left, arrivalIsFact, departureIsFact } = stop;
      if (first) judge(stop, came, arrivalIsFact ? came : came + 1, arrivalIsFact, []);
      if (last) judge(stop, left, left + 1, departureIsFact, []);
      if (stop.move === undefined || first) continue;
      const move = schedule.operations[stop.move]!;
      judge(stop, move.start, Math.max(move.end, move.start + 1), isFact(problem, stop.move), [stop.move]);
    }
  }
}
