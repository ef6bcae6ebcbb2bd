import { describe, expect, it } from 'vitest';
import { SteadySpan } from '../../../src/engine/constraints/work-span.ts';
import { readPrecedence } from '../../../src/engine/prove/precedence.ts';
import { endToStart, plainProblem } from './a-shop.ts';

const spans = (minutes: readonly number[]) => minutes.map((m) => [new SteadySpan(m)]);

function problemOf(minutes: readonly number[], lags: Parameters<typeof plainProblem>[1]) {
  const operations = minutes.map((work) => ({ modes: [{ work, uses: [] }] }));
  return plainProblem(operations, lags, []);
}

describe('what time lags say of pairs', () => {
  it('a chain orders its ends, and a start lag as long as the work orders too', () => {
    const startLag = { from: { operation: 2, edge: 'start' }, to: { operation: 3, edge: 'start' }, min: 4 } as const;
    const problem = problemOf([3, 3, 4, 1], [endToStart(0, 1), endToStart(1, 2), startLag]);
    const precedence = readPrecedence(problem, spans([3, 3, 4, 1]));
    expect(precedence.contradictory).toBe(false);
    expect(precedence.ordered(0, 3)).toBe(true);
    expect(precedence.ordered(3, 0)).toBe(false);
    const shorter = problemOf([3, 3, 4, 1], [{ ...startLag, min: 3 }]);
    expect(readPrecedence(shorter, spans([3, 3, 4, 1])).ordered(2, 3)).toBe(false);
  });

  it('a window that closes before the work between can be done contradicts itself', () => {
    const window = {
      from: { operation: 0, edge: 'end' },
      to: { operation: 2, edge: 'start' },
      min: 0,
      max: 4,
    } as const;
    const problem = problemOf([1, 5, 1], [endToStart(0, 1), endToStart(1, 2), window]);
    expect(readPrecedence(problem, spans([1, 5, 1])).contradictory).toBe(true);
    expect(readPrecedence(problemOf([1, 4, 1], problem.lags), spans([1, 4, 1])).contradictory).toBe(false);
  });

  it('a large problem is read along its chains', () => {
    const minutes = new Array<number>(200).fill(1);
    const lags = minutes.flatMap((_, k) => (k % 10 === 0 ? [] : [endToStart(k - 1, k)]));
    const precedence = readPrecedence(problemOf(minutes, lags), spans(minutes));
    expect([precedence.ordered(0, 9), precedence.ordered(0, 10), precedence.ordered(9, 0)]).toEqual([
      true,
      false,
      false,
    ]);
  });
});
