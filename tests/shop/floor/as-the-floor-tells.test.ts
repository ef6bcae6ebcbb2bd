import { expect, test } from 'vitest';
import { technicianQueue } from '../../../src/shop/floor/queue.ts';
import { timeline } from '../../../src/shop/floor/timeline.ts';
import { replan } from '../../../src/shop/planning/replan.ts';
import { TechnicianId } from '../../../src/trade/model/ids.ts';
import { aCar, minute, operation, people, place } from './a-car.ts';

/** A car that has come and is planned; what is told after that no plan has heard of. */
async function aPlannedCar() {
  const car = await aCar('walkInWash');
  const { deps, shopId } = car;
  await car.tell(0, { kind: 'arrived', placeId: place('holdFront') });
  await replan(deps, { shopId, reason: 'arrived' });
  const intakeOf = async (person: string) => {
    const technicianId = TechnicianId.parse(person);
    const { items } = await technicianQueue(deps, { shopId, technicianId, date: '2026-03-02' });
    return items.find((each) => each.operation === 'intake');
  };
  return { ...car, intakeOf };
}

test('work begun on the floor is under way in its worker’s queue before any plan has followed', async () => {
  const car = await aPlannedCar();
  const planned = await car.intakeOf('ash');
  expect(planned?.planned.state).toBe('planned');
  await car.tell(7, { kind: 'started', operation: operation('intake'), by: people('ash') });
  const item = await car.intakeOf('ash');
  expect([item?.when, item?.planned.state, item?.planned.start]).toEqual(['now', 'underWay', minute(7)]);
  const length = planned!.planned.end - planned!.planned.start;
  expect(item!.planned.end - item!.planned.start).toBe(length);
});

test('whoever begins another’s work has it in the queue, and the other no longer', async () => {
  const car = await aPlannedCar();
  await car.tell(7, { kind: 'started', operation: operation('intake'), by: people('cedar') });
  expect((await car.intakeOf('cedar'))?.planned.state).toBe('underWay');
  expect(await car.intakeOf('ash')).toBeUndefined();
});

test('what rests, goes on and is done is shown so at once, in the queue and on the timeline', async () => {
  const car = await aPlannedCar();
  const { deps, shopId } = car;
  const stateOnTimeline = async () => {
    const { places } = await timeline(deps, { shopId, date: '2026-03-02' });
    const operations = places.flatMap((each) => each.stays.flatMap((stay) => stay.operations));
    return operations.find((each) => each.operation === 'intake')?.state;
  };
  const intake = operation('intake');
  await car.tell(2, { kind: 'started', operation: intake, by: people('ash') });
  await car.tell(4, { kind: 'interrupted', operation: intake, reason: 'the telephone' });
  expect([(await car.intakeOf('ash'))?.planned.state, await stateOnTimeline()]).toEqual(['paused', 'paused']);
  await replan(deps, { shopId, reason: 'interrupted' });
  await car.tell(8, { kind: 'resumed', operation: intake });
  const { items } = await technicianQueue(deps, { shopId, technicianId: people('ash')[0]!, date: '2026-03-02' });
  const told = items.filter((each) => each.operation.startsWith('intake')).map((each) => each.planned.state);
  expect(told).toContain('underWay');
  await replan(deps, { shopId, reason: 'resumed' });
  await car.tell(12, { kind: 'finished', operation: intake });
  const done = await car.intakeOf('ash');
  expect([done?.when, await stateOnTimeline()]).toEqual(['done', 'finished']);
});
