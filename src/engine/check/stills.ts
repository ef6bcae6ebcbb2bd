import { edgeTime, isFact, type PlanRead, type Stop } from './plan-read.ts';
import { carName, type Report } from './violation.ts';

/**
 * Ensures that no car moves, arrives or is picked up between final wipe and move-safe. O(stills x stays of the job).
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
      if ((settled && began) || start >= to || Math.max(end, start + 1) <= from) return;
      const text = `${carName(problem, stop.stay)} moves at minute ${start}; it must stand still from ${from} to ${to}.`;
      report({ invariant: 2, rule: 'move-unsafe', text, operations, stays: [stop.stay] });
    };
    for (const stop of itineraries[still.job]!) {
      if (stop.first) judge(stop, stop.from, stop.from, stop.arrivalIsFact, []);
      if (stop.last) judge(stop, stop.to, stop.to, stop.departureIsFact, []);
      if (stop.move === undefined || stop.first) continue;
      const move = schedule.operations[stop.move]!;
      judge(stop, move.start, move.end, isFact(problem, stop.move), [stop.move]);
    }
  }
}
