import { describe, expect, test } from 'vitest';
import { recordFact } from '../../../src/shop/floor/record-fact.ts';
import { whatHappened } from '../../../src/shop/floor/what-happened.ts';
import { replan } from '../../../src/shop/planning/replan.ts';
import { aCar, minute, operation, people, place } from './a-car.ts';

/** A car that has been taken in, in the yard, and is to be driven to the wet bay as the plan says. */
async function toBeMoved() {
  const car = await aCar();
  await car.tell(0, { kind: 'arrived', placeId: place('yard1') });
  await car.done('intake', 1, 20, 'ash');
  await replan(car.deps, { shopId: car.shopId, reason: 'test' });
  const planned = await car.deps.store.plans.job(car.shopId, car.jobId);
  return { ...car, move: planned!.operations.find((each) => each.kind === 'move' && each.state === 'planned')! };
}

describe('a finished move', () => {
  test('tells that the car stands where the plan wanted it', async () => {
    const { deps, shopId, jobId, tell, move } = await toBeMoved();
    const key = operation(move.operation);
    await tell(30, { kind: 'started', operation: key, by: people('cedar') });
    await tell(38, { kind: 'finished', operation: key });
    const events = await deps.store.floorEvents.listByJob(shopId, jobId);
    const { stays } = whatHappened(events, minute(40));
    expect(stays.at(-1)).toMatchObject({ placeId: move.placeId, from: minute(38), to: null });
  });

  test('sent twice is told once', async () => {
    const { deps, shopId, jobId, setNow, move } = await toBeMoved();
    setNow(minute(40));
    const fact = { kind: 'finished' as const, operation: operation(move.operation) };
    const told = { shopId, jobId, clientId: 'tablet-move-1', occurredAt: minute(38), fact };
    await recordFact(deps, told);
    await recordFact(deps, told);
    const events = await deps.store.floorEvents.listByJob(shopId, jobId);
    expect(events.filter((each) => each.fact.kind === 'moved')).toHaveLength(1);
  });
});

test('a pickup told after the handover says the same again and troubles nobody', async () => {
  const { tell } = await aCar();
  await tell(0, { kind: 'arrived', placeId: place('yard1') });
  await tell(100, { kind: 'started', operation: operation('handover'), by: people('ash') });
  await tell(120, { kind: 'finished', operation: operation('handover') });
  expect((await tell(121, { kind: 'pickedUp' })).exceptions).toEqual([]);
});
