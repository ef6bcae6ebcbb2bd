import { expect, it } from 'vitest';
import { startOperation } from '../../../src/shop/floor/start-operation.ts';
import { GateShut } from '../../../src/shop/problems/problems.ts';
import { aCar, operation, people, place } from './a-car.ts';

it('of devices that start one work at the same moment one has started it, and the others are told that it is under way', async () => {
  const { deps, shopId, jobId, tell } = await aCar();
  await tell(1, { kind: 'arrived', placeId: place('yard1') });
  const start = (clientId: string) =>
    startOperation(deps, { shopId, jobId, operation: operation('intake'), by: people('ash'), clientId });
  const outcomes = await Promise.allSettled(['tablet-a', 'tablet-b', 'tablet-c'].map(start));
  const refused = outcomes.filter((outcome) => outcome.status === 'rejected');
  expect(refused).toHaveLength(2);
  for (const { reason } of refused) expect(reason).toBeInstanceOf(GateShut);
  const facts = await deps.store.floorEvents.listByJob(shopId, jobId);
  expect(facts.filter(({ fact }) => fact.kind === 'started')).toHaveLength(1);
});

it('one start that a device sends twice at the same moment is one', async () => {
  const { deps, shopId, jobId, tell } = await aCar();
  await tell(1, { kind: 'arrived', placeId: place('yard1') });
  const start = () =>
    startOperation(deps, { shopId, jobId, operation: operation('intake'), by: people('ash'), clientId: 'tablet-a' });
  const both = await Promise.all([start(), start()]);
  expect(both.map(({ fresh }) => fresh).sort()).toEqual([false, true]);
  expect(both[0]!.event).toEqual(both[1]!.event);
});
