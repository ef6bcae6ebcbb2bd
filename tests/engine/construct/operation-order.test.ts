import { expect, test } from 'vitest';
import { orderOperations } from '../../../src/engine/construct/operation-order.ts';
import { blankProblem, endToStart, work } from '../random/blank-problem.ts';

const names = ['handover', 'coat', 'wipe', 'wash', 'photographs', 'move', 'customer approves', 'intake'];
const [handover, coat, wipe, wash, photographs, move, approval, intake] = names.keys();

const problem = blankProblem({
  jobs: [{ name: 'car', stays: [0, 1], release: 0, arrival: intake!, handover: handover! }],
  stays: [
    { job: 0, places: [0], optional: false },
    { job: 0, places: [1], optional: false, move: move! },
  ],
  operations: names.map((name, o) =>
    work(
      name,
      0,
      10,
      o === move ? { presence: 'optional' } : o === approval ? {} : { stay: [wash, intake].includes(o) ? 0 : 1 },
    ),
  ),
  lags: [
    endToStart(intake!, wash!),
    endToStart(wash!, approval!),
    endToStart(wipe!, coat!, 0, 30),
    endToStart(coat!, handover!),
  ],
});

test('operations are planned stay by stay, along their lags, and a tied block without a break', () => {
  const { operations, stageOf } = orderOperations(problem, 0, [...names.keys()], problem.lags);
  expect(operations.map((o) => names[o])).toEqual([
    'intake',
    'wash',
    'customer approves',
    'move',
    'wipe',
    'coat',
    'photographs',
    'handover',
  ]);
  expect(stageOf.get(approval!)).toBe(0);
  expect(stageOf.get(photographs!)).toBe(1);
});

test('lags that run in a circle are put in some order, each operation once', () => {
  const circle = [endToStart(0, 1), endToStart(1, 2), endToStart(2, 0, -100)];
  const { operations } = orderOperations(problem, 0, [0, 1, 2], circle);
  expect([...operations].sort()).toEqual([0, 1, 2]);
});
