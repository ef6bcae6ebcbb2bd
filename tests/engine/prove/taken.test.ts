import { describe, expect, it } from 'vitest';
import { takenOf } from '../../../src/engine/prove/taken.ts';
import { plainProblem } from './a-shop.ts';

const mode = { work: 2, uses: [{ resource: 0, amount: 1 }] };
const plain = plainProblem([{ modes: [mode] }], [], [2]);
const taken = (from: number, to: number, amount = 1) => ({ resource: 0, amount, from, to });

describe('what is taken of a resource from outside', () => {
  it('adds up where spans overlap, to no more than there is', () => {
    const problem = { ...plain, takenResources: [taken(0, 6), taken(2, 4, 2), taken(5, 5)] };
    expect(takenOf(problem, 0)).toEqual([
      { from: 0, to: 2, amount: 1 },
      { from: 2, to: 4, amount: 2 },
      { from: 4, to: 6, amount: 1 },
    ]);
  });

  it('leaves out the night through which pausable work pauses', () => {
    const [operation] = plain.operations;
    const problem = {
      ...plain,
      progresses: [{ at: [0, 8, 20], rate: [1, 0, 1] }],
      operations: [{ ...operation!, pausable: true, modes: [{ ...mode, progress: 0 }] }],
      takenResources: [taken(6, 22)],
    };
    expect(takenOf(problem, 0)).toEqual([
      { from: 6, to: 8, amount: 1 },
      { from: 20, to: 22, amount: 1 },
    ]);
  });
});
