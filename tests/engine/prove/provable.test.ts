import { describe, expect, it } from 'vitest';
import type { Problem } from '../../../src/engine/problem/problem.ts';
import { isPlain, provable, unprovable } from '../../../src/engine/prove/provable.ts';
import { prove } from '../../../src/engine/prove/prove.ts';
import { plainProblem } from './a-shop.ts';

const plain = plainProblem([{ modes: [{ work: 2, uses: [{ resource: 0, amount: 1 }] }] }], [], [1]);
const [operation] = plain.operations;
const [mode] = operation!.modes;
const [job] = plain.jobs;
const day = { at: [0, 5, 9], rate: [1, 0, 1] };
const stay = { job: 0, places: [0], optional: false };
const place = { name: 'bay', turnaround: 0, blockedBy: [] };
const happened = { start: 0, mode: 0, by: 'fact' } as const;

const withFeature: readonly (readonly [string, Problem])[] = [
  ['stays', { ...plain, places: [place], stays: [stay], jobs: [{ ...job!, stays: [0] }] }],
  ['optional operations', { ...plain, operations: [{ ...operation!, presence: 'optional' }] }],
  ['facts', { ...plain, operations: [{ ...operation!, fixed: happened }] }],
  ['branches', { ...plain, branches: [{ name: 'lamps or waiting', alternatives: [[0], []] }] }],
  ['overtime', { ...plain, tiers: ['overtime'] }],
  ['the same crew for two operations', { ...plain, sameCrew: [{ first: 0, second: 0, held: false }] }],
  ['budgets', { ...plain, operations: [{ ...operation!, modes: [{ ...mode!, budget: 0 }] }] }],
];

const outside: readonly (readonly [string, Problem])[] = [
  [
    'objectives beyond 32 bits',
    {
      ...plain,
      horizon: 50_000,
      tiers: ['tardiness'],
      jobs: [{ ...job!, ready: 0, due: { at: 0, weight: 100_000 } }],
    },
  ],
  [
    'a car that may be nowhere',
    { ...plain, places: [place], stays: [{ ...stay, optional: true }], jobs: [{ ...job!, stays: [0] }] },
  ],
  [
    'a car that arrived before it left',
    {
      ...plain,
      places: [place],
      stays: [stay, { ...stay, fixed: { place: 0, from: 3 } }],
      jobs: [{ ...job!, stays: [0, 1] }],
    },
  ],
  [
    'a budget of work at several speeds',
    {
      ...plain,
      progresses: [{ at: [0, 5], rate: [1, 2] }],
      budgets: [{ name: 'machine', windows: [{ from: 0, to: 9 }], limit: 3 }],
      operations: [{ ...operation!, modes: [{ ...mode!, budget: 0, progress: 0 }] }],
    },
  ],
  [
    'work under way that its hours never let end',
    {
      ...plain,
      progresses: [{ at: [0, 1], rate: [1, 0] }],
      operations: [{ ...operation!, fixed: happened, modes: [{ ...mode!, progress: 0 }] }],
    },
  ],
];

describe('what can be proved', () => {
  it('is a plain problem', () => {
    expect(provable(plain)).toBe(true);
    expect(isPlain(plain)).toBe(true);
  });

  for (const [feature, problem] of withFeature) {
    it(`is a problem with ${feature}, which is not plain`, () => {
      expect(unprovable(problem)).toBeUndefined();
      expect(isPlain(problem)).toBe(false);
    });
  }

  for (const [feature, problem] of outside) {
    it(`is not a problem with ${feature}, and asking for a proof says so`, () => {
      expect(unprovable(problem)).toBe(feature);
      expect(() => prove(problem, { seed: 1, workLimit: 1 })).toThrow(feature);
    });
  }

  it('is pausable work on a resource that other work may use in its pauses, though that is not plain', () => {
    const pausable = { ...operation!, pausable: true, modes: [{ ...mode!, progress: 0 }] };
    const alone = { ...plain, progresses: [day], operations: [pausable, pausable] };
    expect(isPlain(alone)).toBe(true);
    const mixed = { ...alone, operations: [pausable, operation!] };
    expect([provable(mixed), isPlain(mixed)]).toEqual([true, false]);
    // Where there is enough for both at once, nothing waits for a pause.
    const enough = plain.resources.map((resource) => ({ ...resource, capacity: 100 * resource.capacity }));
    expect(isPlain({ ...mixed, resources: enough })).toBe(true);
  });
});
