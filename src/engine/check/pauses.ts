import type { Interval } from '../problem/problem.ts';
import { isFact, type PlanRead } from './plan-read.ts';
import { operationName, type Report } from './violation.ts';
import { completion } from './worked-pieces.ts';

/**
 * Ensures that planned work ends when its progress says, and not earlier or later; that it starts in open time; that
 * unpausable work meets no gap; and that pausable work works a first piece and never pauses for too long. O(pieces).
 */
export function checkPauses({ problem, schedule, pieces }: PlanRead, report: Report): void {
  for (const [o, operation] of problem.operations.entries()) {
    const planned = schedule.operations[o];
    if (planned == null || isFact(problem, o)) continue;
    const name = operationName(problem, o);
    const mode = operation.modes[planned.mode]!;
    const tell = (rule: string, text: string) => report({ invariant: 4, rule, text, operations: [o], stays: [] });
    const end = completion(problem, mode, planned.start);
    if (end !== planned.end) {
      const due = end === undefined ? 'its hours never let it end' : `it takes until ${end}`;
      tell('end', `${name} starts at minute ${planned.start} and is planned to end at ${planned.end}; ${due}.`);
    }
    if (mode.work === 0) continue;
    const worked = pieces[o]!;
    if (worked[0]?.from !== planned.start) {
      tell('start-closed', `${name} starts at minute ${planned.start}, when nobody and nothing works at it.`);
    }
    for (const pause of pausesBetween(worked)) {
      const minutes = pause.to - pause.from;
      if (!operation.pausable) {
        tell('pause', `${name} is interrupted from minute ${pause.from} to ${pause.to} and cannot be paused.`);
      } else if (operation.longestPause !== undefined && minutes > operation.longestPause) {
        const text = `${name} pauses ${minutes} minutes from ${pause.from}; at most ${operation.longestPause} are allowed.`;
        tell('longest-pause', text);
      }
    }
    const first = worked[0];
    if (worked.length > 1 && first !== undefined && first.to - first.from < (operation.leastFirstPiece ?? 0)) {
      const text = `${name} works ${first.to - first.from} minutes before its first pause; at least ${operation.leastFirstPiece} are needed.`;
      tell('first-piece', text);
    }
  }
}

function pausesBetween(pieces: readonly Interval[]): readonly Interval[] {
  return pieces.slice(1).map((piece, k) => ({ from: pieces[k]!.to, to: piece.from }));
}
