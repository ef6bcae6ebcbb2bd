import type { Problem } from '../problem/problem.ts';
import type { Schedule } from '../problem/solution.ts';
import { operationName, type Report } from './violation.ts';

const isMinute = (value: number) => Number.isInteger(value) && value >= 0;

/**
 * Ensures that a schedule can be read at all: an entry for every operation and stay, whole minutes from 0 on, modes and
 * places that exist. Returns whether it can; the other rules are judged only then. O(operations + stays).
 */
export function checkWellFormed(problem: Problem, schedule: Schedule, report: Report): boolean {
  if (schedule.operations.length !== problem.operations.length || schedule.stays.length !== problem.stays.length) {
    const text = `The plan has ${schedule.operations.length} operations and ${schedule.stays.length} stays; the problem has ${problem.operations.length} and ${problem.stays.length}.`;
    report({ invariant: 1, rule: 'plan-size', text, operations: [], stays: [] });
    return false;
  }
  let wellFormed = true;
  for (const [o, planned] of schedule.operations.entries()) {
    if (planned == null) continue;
    const modeExists = problem.operations[o]!.modes[planned.mode] !== undefined;
    if (modeExists && isMinute(planned.start) && isMinute(planned.end) && planned.end >= planned.start) continue;
    const text = `${operationName(problem, o)} is planned from ${planned.start} to ${planned.end} in mode ${planned.mode}, which is no time or no mode of it.`;
    report({ invariant: 4, rule: 'no-such-mode-or-time', text, operations: [o], stays: [] });
    wellFormed = false;
  }
  for (const [s, planned] of schedule.stays.entries()) {
    if (planned == null) continue;
    if (problem.places[planned.place] !== undefined && isMinute(planned.from) && isMinute(planned.to)) continue;
    const text = `Stay ${s} is planned from ${planned.from} to ${planned.to} in place ${planned.place}, which is no time or no place.`;
    report({ invariant: 2, rule: 'no-such-place-or-time', text, operations: [], stays: [s] });
    wellFormed = false;
  }
  return wellFormed;
}
