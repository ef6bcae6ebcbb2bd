import type { Problem } from '../problem/problem.ts';
import type { PlannedOperation } from '../problem/solution.ts';
import type { PlanRead, Stop } from './plan-read.ts';
import { carName, operationName, placeName, type Report } from './violation.ts';
import { completion } from './worked-pieces.ts';

/**
 * Ensures that what has happened, has started or is frozen stays as it is, and that nothing else is planned into the
 * past. O(operations + stays).
 */
export function checkFactsAndFreezes(plan: PlanRead, report: Report): void {
  const { problem, schedule, stops } = plan;
  for (let o = 0; o < problem.operations.length; o++) {
    const operation = problem.operations[o]!;
    const planned = schedule.operations[o];
    if (planned == null) {
      if (operation.fixed === undefined) continue;
      const text = `${operationName(problem, o)} is ${operation.fixed.by} and missing from the plan.`;
      report({ invariant: 8, rule: 'fixed-missing', text, operations: [o], stays: [] });
      continue;
    }
    checkKept(plan, o, planned, report);
    if (planned.start < problem.now && operation.fixed?.by !== 'fact') {
      const text = `${operationName(problem, o)} is planned to start at minute ${planned.start}; it is already ${problem.now}.`;
      report({ invariant: 8, rule: 'past', text, operations: [o], stays: [] });
    }
  }
  for (const stop of stops) if (stop !== undefined) checkArrival(problem, stop, report);
}

function checkArrival(problem: Problem, stop: Stop, report: Report): void {
  const { fixed } = problem.stays[stop.stay]!;
  const about = { invariant: 8, operations: [], stays: [stop.stay] } as const;
  if (fixed !== undefined && fixed.place !== stop.place) {
    const text = `${carName(problem, stop.stay)} is in ${placeName(problem, fixed.place)}; the plan says ${placeName(problem, stop.place)}.`;
    report({ ...about, rule: 'fixed-place', text });
  }
  if (fixed?.from !== undefined && fixed.from !== stop.from) {
    const text = `${carName(problem, stop.stay)} arrived at minute ${fixed.from}; the plan says ${stop.from}.`;
    report({ ...about, rule: 'fixed-arrival', text });
  }
  if (!stop.arrivalIsFact && stop.from < problem.now) {
    const text = `${carName(problem, stop.stay)} is planned to arrive in ${placeName(problem, stop.place)} at minute ${stop.from}; it is already ${problem.now}.`;
    report({ ...about, rule: 'past', text });
  }
}

function checkKept({ problem }: PlanRead, o: number, planned: PlannedOperation, report: Report): void {
  const { fixed, modes } = problem.operations[o]!;
  if (fixed === undefined) return;
  const about = { invariant: 8, operations: [o], stays: [] } as const;
  const name = operationName(problem, o);
  const how = fixed.by === 'fact' ? 'started' : 'is frozen to start';
  if (planned.start !== fixed.start) {
    const text = `${name} ${how} at minute ${fixed.start}; the plan says ${planned.start}.`;
    report({ ...about, rule: 'fixed-start', text });
  }
  if (fixed.mode !== undefined && planned.mode !== fixed.mode) {
    report({ ...about, rule: 'fixed-mode', text: `${name} is ${fixed.by} in another way than planned.` });
  }
  if (fixed.by !== 'fact') return;
  const end = fixed.end ?? completion(problem, modes[fixed.mode ?? planned.mode]!, fixed.start);
  if (end === undefined || planned.end === end) return;
  report({ ...about, rule: 'fixed-end', text: `${name} ends at minute ${end}; the plan says ${planned.end}.` });
}
