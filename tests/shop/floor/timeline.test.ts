import { describe, expect, test } from 'vitest';
import { book } from '../../../src/shop/booking/book.ts';
import { technicianQueue } from '../../../src/shop/floor/queue.ts';
import { timeline } from '../../../src/shop/floor/timeline.ts';
import { replan } from '../../../src/shop/planning/replan.ts';
import { NotFound } from '../../../src/shop/problems/problems.ts';
import type { Instant } from '../../../src/trade/model/time.ts';
import { aRequest } from '../a-request.ts';
import { aShop, MONDAY_8 } from '../a-shop.ts';
import { aCar, aWipedCar, minute, operation, people, place } from './a-car.ts';

describe('the timeline of a day', () => {
  test('is 23 hours long when the clocks go forward, and 25 when they go back', async () => {
    // Central European Time in 2026: forward on 29 March, back on 25 October (Directive 2000/84/EC).
    const { deps, shopId } = await aShop();
    const hours = async (date: string) => {
      const { from, to } = await timeline(deps, { shopId, date });
      return (to - from) / 3_600_000;
    };
    expect(await hours('2026-03-28')).toBe(24);
    expect(await hours('2026-03-29')).toBe(23);
    expect(await hours('2026-10-25')).toBe(25);
  });

  test('shows a car once in each place it stands, with its work, and each person’s work within hours', async () => {
    const { deps, shopId } = await aShop();
    const request = aRequest('walkInWash');
    const { job } = await book(deps, { shopId, request, dropOffAt: MONDAY_8, pickupAt: null, depositNote: '' });
    const day = await timeline(deps, { shopId, date: '2026-03-02' });
    const stays = day.places.flatMap((place) => place.stays.map((stay) => ({ ...stay, place: place.placeId })));
    expect(stays.every((stay) => stay.jobId === job.id)).toBe(true);
    expect(stays.map((stay) => stay.place)).toContain('bay1');
    const inBay = stays.find((stay) => stay.place === 'bay1')!;
    expect(inBay.operations.map((each) => each.operation)).toContain('maintenanceWash');
    for (const person of day.people) {
      for (const work of person.operations) {
        expect(person.hours.some((span) => span.from <= work.start && work.end <= span.to)).toBe(true);
      }
    }
    expect((await timeline(deps, { shopId, date: '2026-03-03' })).places.flatMap((place) => place.stays)).toEqual([]);
  });
});

describe('the timeline of a day that nothing has happened on', () => {
  test('is told as it was within the minute, and anew when the clock or the floor has gone on', async () => {
    const car = await aCar('walkInWash');
    const { deps, shopId } = car;
    const today = () => timeline(deps, { shopId, date: '2026-03-02' });
    await car.tell(0, { kind: 'arrived', placeId: place('holdFront') });
    await replan(deps, { shopId, reason: 'here' });
    const first = await today();
    expect(await today()).toBe(first);
    car.setNow(minute(1));
    const later = await today();
    expect(later.asOf).toBe(minute(1));
    await car.tell(1, { kind: 'started', operation: operation('intake'), by: people('ash') });
    const begun = await today();
    const states = (day: typeof begun) =>
      day.people.flatMap(({ operations }) => operations.filter((each) => each.operation === 'intake'));
    expect(states(later).map(({ state }) => state)).toEqual(['planned']);
    expect(states(begun).map(({ state }) => state)).toEqual(['underWay']);
  });
});

describe('the timeline of a day that is over', () => {
  test('still shows the car that has left, where it stood and who worked on it', async () => {
    const car = await aCar('walkInWash');
    const { deps, shopId } = car;
    await car.tell(0, { kind: 'arrived', placeId: place('holdFront') });
    await car.done('intake', 1, 6, 'ash');
    await car.tell(10, { kind: 'moved', placeId: place('bay1') });
    await car.done('maintenanceWash', 12, 80, 'cedar');
    await car.tell(120, { kind: 'pickedUp' });
    await replan(deps, { shopId, reason: 'gone' });
    car.setNow(minute(24 * 60));
    const day = await timeline(deps, { shopId, date: '2026-03-02' });
    const stays = day.places.flatMap((each) => each.stays.map((stay) => [each.placeId, stay.from, stay.to]));
    expect(stays.sort()).toEqual(
      [
        ['holdFront', minute(0), minute(10)],
        ['bay1', minute(10), minute(120)],
      ].sort(),
    );
    const cedar = day.people.find((each) => each.technicianId === 'cedar')!;
    expect(cedar.operations.map((each) => [each.operation, each.start, each.end, each.state])).toEqual([
      ['maintenanceWash', minute(12), minute(80), 'finished'],
    ]);
  });
});

describe('a technician’s queue', () => {
  test('leads to the coating with its window, cautions, product and conditions', async () => {
    const car = await aWipedCar();
    const { deps, shopId, setNow } = car;
    setNow(minute(502));
    const { plan } = await replan(deps, { shopId, reason: 'wiped' });
    const coat = plan.operations.find((each) => each.operation === 'coat')!;
    const queue = await technicianQueue(deps, { shopId, technicianId: coat.people[0]!, date: '2026-03-02' });
    const item = queue.items.find((each) => each.operation === 'coat')!;
    // The wipe ended at minute 500; the demo's recipe lays within an hour of it.
    expect(item.windowClosesAt).toBe(minute(560));
    expect(item.minutesToWindow).toBe(58);
    expect(item.cautions.length).toBeGreaterThan(0);
    expect(item.cautions.every((each) => /safety data sheet/i.test(each.defersTo))).toBe(true);
    expect(item.products[0]).toMatch(/One coat C .* ml; level after \d+ to \d+ s/);
    expect(item.conditions.join(' ')).toMatch(/dew point.*No reading was taken yet/);
    expect(item.when).toBe('next');
  });

  test('has what is under way first and what is done behind', async () => {
    const car = await aWipedCar();
    const { deps, shopId, setNow } = car;
    await car.tell(512, { kind: 'started', operation: 'coat' as never, by: people('birch') });
    setNow(minute(520));
    await replan(deps, { shopId, reason: 'coating' });
    const { items } = await technicianQueue(deps, { shopId, technicianId: people('birch')[0]!, date: '2026-03-02' });
    const when = Object.fromEntries(items.map((each) => [each.operation, each.when]));
    expect(when).toMatchObject({ panelWipe: 'done', coat: 'now' });
  });

  test('is nobody’s who is not there', async () => {
    const { deps, shopId } = await aShop({ now: (MONDAY_8 + 1) as Instant });
    const nobody = people('nobody')[0]!;
    await expect(technicianQueue(deps, { shopId, technicianId: nobody, date: '2026-03-02' })).rejects.toThrow(NotFound);
  });
});
