import { expect, it, vi } from 'vitest';
import { DoubleBooking } from '../../src/store/store.ts';
import { onEachDatabase } from './fresh-database.ts';
import { aPlan, at, occupancyOf, placeId, stockedShop } from './samples.ts';

// The application's own check is taken out: what is left is the database.
vi.mock('../../src/store/records/double-booking.ts', () => ({ refuseOverlaps: () => {} }));

const hold = (owner: string, from: number, to: number) => ({
  placeId: placeId('bay1'),
  from: at(from),
  to: at(to),
  owner,
  expiresAt: at(48),
});

onEachDatabase('without a check in the application', (given) => {
  it('the database alone gives a place to exactly one of two', async () => {
    const { store, another } = given();
    const other = await another();
    for (let round = 0; round < 5; round += 1) {
      const shopId = await stockedShop(store);
      const outcomes = await Promise.allSettled([
        store.holds.take(shopId, [hold('first', 8, 12)], at(0)),
        other.holds.take(shopId, [hold('second', 9, 10)], at(0)),
      ]);
      expect(outcomes.map((outcome) => outcome.status).sort()).toEqual(['fulfilled', 'rejected']);
      const lost = outcomes.find((outcome) => outcome.status === 'rejected');
      expect((lost as PromiseRejectedResult).reason).toBeInstanceOf(DoubleBooking);
      expect(await store.holds.list(shopId, at(0))).toHaveLength(1);
    }
  });

  it('the database alone refuses a plan that puts two cars in one place, and all of that plan', async () => {
    const { store } = given();
    const shopId = await stockedShop(store);
    const visits = [
      { jobId: 'j1', placeId: 'bay1', from: 8, to: 12 },
      { jobId: 'j2', placeId: 'bay1', from: 11, to: 15 },
    ];
    const publication = {
      shopId,
      expectedVersion: 0,
      plan: aPlan(1, visits),
      occupancy: occupancyOf(visits),
      now: at(0),
    };
    await expect(store.plans.publish(publication)).rejects.toBeInstanceOf(DoubleBooking);
    expect(await store.plans.currentVersion(shopId)).toBe(0);
    expect(await store.plans.current(shopId)).toBeNull();
  });

  it('the database alone keeps a plan off a live hold', async () => {
    const { store } = given();
    const shopId = await stockedShop(store);
    await store.holds.take(shopId, [hold('quote', 10, 11)], at(0));
    const visits = [{ jobId: 'j1', placeId: 'bay1', from: 8, to: 12 }];
    const publication = {
      shopId,
      expectedVersion: 0,
      plan: aPlan(1, visits),
      occupancy: occupancyOf(visits),
      now: at(0),
    };
    await expect(store.plans.publish(publication)).rejects.toBeInstanceOf(DoubleBooking);
  });
});
