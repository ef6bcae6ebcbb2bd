import { describe, expect, test } from 'vitest';
import { toldOutsideHours } from '../../../src/shop/setup/told-outside-hours.ts';
import type { Book } from '../../../src/trade/formulate/book.ts';
import type { Job } from '../../../src/trade/model/job.ts';
import { car, minutesIn } from '../../api/a-planned-car.ts';
import { lead, monday9, shop, washer } from '../../api/a-shop.ts';

/** The car is told to come on Monday at 10:00 and promised for 15:00. */
function book(changes: { hours?: Book['shop']['hours']; job?: Partial<Job>; now?: number } = {}): Book {
  return {
    shop: { ...shop, hours: changes.hours ?? shop.hours },
    airZones: [],
    places: [],
    technicians: [lead, washer],
    equipment: [],
    coatings: [],
    recipes: [],
    jobs: [{ ...car, ...changes.job }],
    events: [],
    readings: [],
    previousPlan: null,
    now: (changes.now ?? monday9) as Book['now'],
    horizonDays: 28,
  };
}

const mornings = { monday: [{ from: '08:00', to: '12:00' }] };
const afternoons = { monday: [{ from: '12:00', to: '17:00' }] };

describe('hours told to customers', () => {
  test('inside opening hours raise nothing', () => {
    expect(toldOutsideHours(book())).toEqual([]);
  });

  test('at which the door would be closed are named, drop-off and pickup each', () => {
    expect(toldOutsideHours(book({ hours: mornings }))).toMatchObject([{ what: 'pickup', at: minutesIn(360) }]);
    expect(toldOutsideHours(book({ hours: afternoons }))).toMatchObject([{ what: 'dropOff', at: minutesIn(60) }]);
    expect(toldOutsideHours(book({ hours: {} })).map((each) => each.what)).toEqual(['dropOff', 'pickup']);
  });

  test('at the minute of opening or closing are inside', () => {
    const toTheMinute = { monday: [{ from: '10:00', to: '15:00' }] };
    expect(toldOutsideHours(book({ hours: toTheMinute }))).toEqual([]);
  });

  test('arranged with a person by name are that person’s', () => {
    const arranged = { dropOffBy: null, pickupBy: lead.id };
    expect(toldOutsideHours(book({ hours: mornings, job: { arranged } }))).toEqual([]);
  });

  test('that have passed, or of a car that is there, are no matter', () => {
    expect(toldOutsideHours(book({ hours: afternoons, job: { state: 'inShop' } }))).toEqual([]);
    expect(toldOutsideHours(book({ hours: afternoons, now: minutesIn(61) }))).toEqual([]);
  });
});
