import { describe, expect, test } from 'vitest';
import { comingAndGoing } from '../../../src/shop/floor/coming-and-going.ts';
import type { FloorFact } from '../../../src/trade/model/job.ts';
import { demoRecipe } from '../../seed/demo-shop.ts';
import { minute, operation, place } from './a-car.ts';

const recipe = demoRecipe('maintenance');
const handover = recipe.steps.find(({ kind }) => kind === 'handover')!.key;
const finished = (key: string): FloorFact => ({ kind: 'finished', operation: operation(key) });
const of = (...facts: [at: number, fact: FloorFact][]) =>
  comingAndGoing(
    facts.map(([at, fact]) => ({ occurredAt: minute(at), fact })),
    recipe,
  );

describe('a car', () => {
  test('of which nothing was told has neither come nor left', () => {
    expect(of()).toEqual({});
    expect(of([3, { kind: 'noted', operation: null, text: 'will be late' }])).toEqual({});
  });

  test('came when it arrived, was moved or was worked on, whichever was first', () => {
    const arrived: FloorFact = { kind: 'arrived', placeId: place('bay1') };
    const started: FloorFact = { kind: 'started', operation: operation('intake'), by: [] };
    expect(of([9, arrived], [5, started])).toEqual({ cameAt: minute(5) });
    expect(of([7, { kind: 'moved', placeId: place('bay2') }])).toEqual({ cameAt: minute(7) });
  });

  test('left when it was picked up, which may be long after the handover', () => {
    expect(of([60, finished(handover)])).toEqual({ leftAt: minute(60) });
    expect(of([60, finished(handover)], [200, { kind: 'pickedUp' }])).toEqual({ leftAt: minute(200) });
    expect(of([60, finished('intake')])).toEqual({});
  });
});
