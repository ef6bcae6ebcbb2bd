import type { Interval, Operation, Problem } from '../problem/problem.ts';
import { isFact, type PlanRead } from './plan-read.ts';
import { operationName, type Report } from './violation.ts';
import { completion } from './worked-pieces.ts';

/**
 * Ensures that planned work ends when its progress says, and not earlier or later; that it starts in open time; that
 * unpausable work meets no gap; and that pausable work works a first piece and never pauses for too long. O(pieces).
 */
export function checkPauses({ problem, schedule, pieces }: PlanRead, report: Report): void {
  for (let o = 0; o < problem.operations.length; o++) {
    const operation = problem.operations[o]!;
    const planned = schedule.operations[o];
    if (planned == null || isFact(problem, o)) continue;
    const mode = operation.modes[planned.mode]!;
    const end = completion(problem, mode, planned.start);
    if (end !== planned.end) {
      const due = end === undefined ? 'its hours never let it end' : `it takes until ${end}`;
      const text = `starts at minute ${planned.start} and is planned to end at ${planned.end}; ${due}.`;
      tell(problem, o, 'end', text, report);
    }
    if (mode.work === 0) continue;
    if (pieces[o]![0]?.from !== planned.start) {
      const text = `starts at minute ${planned.start}, when nobody and nothing works at it.`;
      tell(problem, o, 'start-closed', text, report);
    }
    if (pieces[o]!.length > 1) checkEachPause(problem, o, operation, pieces[o]!, report);
  }
}

function checkEachPause(
  problem: Problem,
  o: number,
  { pausable, longestPause, leastFirstPiece = 0 }: Operation,
  pieces: readonly Interval[],
  report: Report,
): void {
  for (let k = 1; k < pieces.length; k++) {
    const from = pieces[k - 1]!.to;
    const to = pieces[k]!.from;
    if (!pausable) {
      tell(problem, o, 'pause', `is interrupted from minute ${from} to ${to} and cannot be paused.`, report);
    } else if (longestPause !== undefined && to - from > longestPause) {
      const text = `pauses ${to - from} minutes from ${from}; at most ${longestPause} are allowed.`;
      tell(problem, o, 'longest-pause', text, report);
    }
  }
  const first = pieces[0]!.to - pieces[0]!.from;
  if (first >= leastFirstPiece) return;
  const text = `works ${first} minutes before its first pause; at least ${leastFirstPiece} are needed.`;
  tell(problem, o, 'first-piece', text, report);
}

function tell(problem: Problem, o: number, rule: string, what: string, report: Report): void {
  report({ invariant: 4, rule, text: `${operationName(problem, o)} ${what}`, operations: [o], stays: [] });
}
