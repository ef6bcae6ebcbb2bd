import { describe, expect, it } from 'vitest';
import type { Problem } from '../../../src/engine/problem/problem.ts';
import { provable, unprovable } from '../../../src/engine/prove/provable.ts';
import { prove } from '../../../src/engine/prove/prove.ts';
import { plainProblem } from './a-shop.ts';

const plain = plainProblem([{ modes: [{ work: 2, uses: [{ resource: 0, amount: 1 }] }] }], [], [1]);
const [operation] = plain.operations;
const day = { at: [0, 5, 9], rate: [1, 0, 1] };

const outside: readonly (readonly [string, Problem])[] = [
  ['stays', { ...plain, stays: [{ job: 0, places: [], optional: false }] }],
  ['optional operations', { ...plain, operations: [{ ...operation!, presence: 'optional' }] }],
  ['facts', { ...plain, operations: [{ ...operation!, fixed: { start: 0, mode: 0, by: 'fact' } }] }],
  ['branches', { ...plain, branches: [{ name: 'lamps or waiting', alternatives: [[0], []] }] }],
  ['tiers of overtime or change', { ...plain, tiers: ['overtime'] }],
  ['the same crew for two operations', { ...plain, sameCrew: [{ first: 0, second: 0, held: false }] }],
  [
    'objectives beyond 32 bits',
    {
      ...plain,
      horizon: 50_000,
      tiers: ['tardiness'],
      jobs: [{ ...plain.jobs[0]!, ready: 0, due: { at: 0, weight: 100_000 } }],
    },
  ],
  ['budgets', { ...plain, operations: [{ ...operation!, modes: [{ ...operation!.modes[0]!, budget: 0 }] }] }],
];

describe('what can be proved', () => {
  it('is a plain problem', () => {
    expect(provable(plain)).toBe(true);
  });

  for (const [feature, problem] of outside) {
    it(`is not a problem with ${feature}, and asking for a proof says so`, () => {
      expect(unprovable(problem)).toBe(feature);
      expect(() => prove(problem, { seed: 1, workLimit: 1 })).toThrow(feature);
    });
  }

  it('is not pausable work on a resource that other work may use in its pauses', () => {
    const mode = { ...operation!.modes[0]!, progress: 0 };
    const pausable = { ...operation!, pausable: true, modes: [mode] };
    const alone = { ...plain, progresses: [day], operations: [pausable, pausable] };
    expect(provable(alone)).toBe(true);
    expect(unprovable({ ...alone, operations: [pausable, operation!] })).toBe(
      'a resource that a pause frees for other work',
    );
    // Where there is enough for both at once, nothing waits for a pause.
    const enough = plain.resources.map((resource) => ({ ...resource, capacity: 100 * resource.capacity }));
    expect(provable({ ...alone, resources: enough, operations: [pausable, operation!] })).toBe(true);
  });
});
