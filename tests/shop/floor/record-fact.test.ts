import { describe, expect, test } from 'vitest';
import { recordFact } from '../../../src/shop/floor/record-fact.ts';
import { acknowledge, listExceptions } from '../../../src/shop/planning/desk-exceptions.ts';
import { Invalid, NotFound } from '../../../src/shop/problems/problems.ts';
import { aCar, aWipedCar, minute, operation, people, place } from './a-car.ts';

describe('a fact', () => {
  test('sent twice is one fact, and nothing is done again', async () => {
    const { deps, shopId, jobId, setNow, asked } = await aCar();
    setNow(minute(10));
    const arrived = { kind: 'arrived' as const, placeId: place('bay1') };
    const told = { shopId, jobId, clientId: 'tablet-1-17', occurredAt: minute(3), fact: arrived };
    const first = await recordFact(deps, told);
    const second = await recordFact(deps, { ...told, occurredAt: minute(9) });
    expect(first.fresh).toBe(true);
    expect(second).toEqual({ event: first.event, fresh: false, exceptions: [] });
    expect(await deps.store.floorEvents.listByJob(shopId, jobId)).toHaveLength(1);
    expect(asked).toEqual(['floor: arrived']);
  });

  test('of a car’s arrival puts the job into the shop, and of its pickup closes it', async () => {
    const { deps, shopId, jobId, tell } = await aCar();
    await tell(2, { kind: 'arrived', placeId: place('bay1') });
    expect((await deps.store.jobs.get(shopId, jobId))?.value.state).toBe('inShop');
    await tell(200, { kind: 'pickedUp' });
    expect((await deps.store.jobs.get(shopId, jobId))?.value.state).toBe('done');
  });

  test('of a coming or a pickup tells when the car really was there, in whatever order it is told', async () => {
    const { deps, shopId, jobId, tell, setNow } = await aCar();
    const times = async () => {
      const { cameAt, leftAt } = (await deps.store.jobs.get(shopId, jobId))!.value;
      return { cameAt, leftAt };
    };
    await tell(10, { kind: 'moved', placeId: place('bay1') });
    expect(await times()).toEqual({ cameAt: minute(10), leftAt: undefined });
    setNow(minute(30));
    const fact = { kind: 'arrived' as const, placeId: place('holdFront') };
    await recordFact(deps, { shopId, jobId, clientId: 'tablet-before', occurredAt: minute(4), fact });
    await tell(40, { kind: 'moved', placeId: place('bay2') });
    expect(await times()).toEqual({ cameAt: minute(4), leftAt: undefined });
    await tell(300, { kind: 'pickedUp' });
    expect(await times()).toEqual({ cameAt: minute(4), leftAt: minute(300) });
  });

  test('that broke a rule is recorded all the same, and the desk is told once', async () => {
    const car = await aWipedCar();
    const { fresh, exceptions } = await car.tell(600, {
      kind: 'started',
      operation: operation('coat'),
      by: people('birch'),
    });
    expect(fresh).toBe(true);
    expect(exceptions.join(' ')).toMatch(/window has closed/);
    expect(exceptions.join(' ')).toMatch(/no reading was taken/);
    const open = await listExceptions(car.deps, { shopId: car.shopId });
    expect(open).toHaveLength(exceptions.length);
    expect(open.every((each) => each.kind === 'factAgainstRule' && each.jobId === car.jobId)).toBe(true);
  });

  test('told late takes its place among the others', async () => {
    const { deps, shopId, jobId, tell, setNow } = await aCar();
    await tell(0, { kind: 'arrived', placeId: place('holdFront') });
    await tell(60, { kind: 'finished', operation: operation('intake') });
    setNow(minute(90));
    const late = await recordFact(deps, {
      shopId,
      jobId,
      clientId: 'tablet-late',
      occurredAt: minute(1),
      fact: { kind: 'started', operation: operation('intake'), by: people('ash') },
    });
    expect(late.exceptions).toEqual([]);
  });

  test('is refused when it lies in the future, or names what nobody knows', async () => {
    const { deps, shopId, jobId } = await aCar();
    const fact = { kind: 'pickedUp' as const };
    const ahead = recordFact(deps, { shopId, jobId, clientId: 'tablet-00', occurredAt: minute(30), fact });
    await expect(ahead).rejects.toThrow(Invalid);
    const nowhere = { kind: 'arrived' as const, placeId: place('attic') };
    const lost = recordFact(deps, { shopId, jobId, clientId: 'tablet-01', occurredAt: minute(0), fact: nowhere });
    await expect(lost).rejects.toThrow(NotFound);
    const unknown = { kind: 'finished' as const, operation: operation('gild') };
    const gilt = recordFact(deps, { shopId, jobId, clientId: 'tablet-02', occurredAt: minute(0), fact: unknown });
    await expect(gilt).rejects.toThrow(/no operation "gild"/);
  });

  test('of two cars in one place is an exception for the desk', async () => {
    const car = await aCar();
    const { deps, shopId } = car;
    const other = (await deps.store.jobs.get(shopId, car.jobId))!.value;
    await deps.store.jobs.put(shopId, { ...other, id: 'other' as typeof other.id }, 'new');
    await car.tell(0, { kind: 'arrived', placeId: place('bay1') });
    const { exceptions } = await recordFact(deps, {
      shopId,
      jobId: 'other' as typeof other.id,
      clientId: 'tablet-other',
      occurredAt: minute(0),
      fact: { kind: 'arrived', placeId: place('bay1') },
    });
    expect(exceptions).toHaveLength(1);
  });
});

describe('an exception', () => {
  test('is acknowledged by a person with a name, once', async () => {
    const car = await aCar();
    const { deps, shopId } = car;
    await car.tell(5, { kind: 'finished', operation: operation('intake') });
    const [exception] = await listExceptions(deps, { shopId });
    await expect(acknowledge(deps, { shopId, exceptionId: exception!.id, by: ' ' })).rejects.toThrow(Invalid);
    await acknowledge(deps, { shopId, exceptionId: exception!.id, by: 'Desk' });
    const again = await acknowledge(deps, { shopId, exceptionId: exception!.id, by: 'Somebody else' });
    expect(again.acknowledgedBy).toBe('Desk');
    expect(await listExceptions(deps, { shopId })).toEqual([]);
    expect(await listExceptions(deps, { shopId, includeAcknowledged: true })).toHaveLength(1);
  });
});
