import { DateTime } from 'luxon';
import { describe, expect, test } from 'vitest';
import { drawnMonth } from '../../../src/shop/owner-what-ifs/drawn-month.ts';
import { at } from '../a-shop.ts';
import { aCarThatCame } from './a-car-that-came.ts';

const zone = 'Europe/Berlin';
const draw = { seed: 3, month: 0, demandPercent: 100 };

const demandOf = (...comings: string[]) => ({
  jobs: comings.map((came, index) => aCarThatCame(`came-${index}`, 'walkInWash', came, 48)),
  weeks: 2,
});

describe('a drawn month', () => {
  const demand = demandOf('2026-03-02T08:00+01:00', '2026-03-04T13:30+01:00', '2026-03-13T09:15+01:00');

  test('has as many cars a week as the weeks it is drawn from', () => {
    // Three cars in two weeks are six in four.
    expect(drawnMonth(demand, zone, '2026-04-06', draw)).toHaveLength(6);
    expect(drawnMonth(demand, zone, '2026-04-06', { ...draw, demandPercent: 150 })).toHaveLength(9);
    expect(drawnMonth({ jobs: [], weeks: 1 }, zone, '2026-04-06', draw)).toEqual([]);
  });

  test('is the same for the same seed and another for another', () => {
    const comings = (month: number, seed = 3) =>
      drawnMonth(demand, zone, '2026-04-06', { ...draw, month, seed }).map((job) => job.earliestDropOff);
    expect(comings(0)).toEqual(comings(0));
    expect(comings(1)).not.toEqual(comings(0));
    expect(comings(0, 4)).not.toEqual(comings(0));
  });

  test('keeps weekday, hour of the clock and length of the stay, over a change of the clocks too', () => {
    // The clocks of Berlin go forward on Sunday 29 March 2026: the weeks from 16 March on lie on both sides.
    const known = new Set(['1 08:00', '3 13:30', '5 09:15']);
    for (const job of drawnMonth(demand, zone, '2026-03-16', { ...draw, demandPercent: 500 })) {
      const comes = DateTime.fromMillis(job.earliestDropOff, { zone });
      expect(known).toContain(comes.toFormat('c HH:mm'));
      const wanted = DateTime.fromMillis(job.wantedPickupAt!, { zone });
      expect(wanted.toISO()).toBe(comes.plus({ days: 2 }).toISO());
      expect(comes.toISODate()! >= '2026-03-16' && comes.toISODate()! < '2026-04-13').toBe(true);
    }
  });

  test('takes a car that came earlier than told for the weekday it came on, wanted back after as long as was told', () => {
    const told = aCarThatCame('early', 'maintenance', '2026-03-12T13:30+01:00', 48);
    const early = {
      ...told,
      state: 'done' as const,
      cameAt: at('2026-03-03T08:10+01:00'),
      leftAt: at('2026-03-04T16:00+01:00'),
    };
    const [job] = drawnMonth({ jobs: [early], weeks: 1 }, zone, '2026-04-06', { ...draw, demandPercent: 25 });
    const comes = DateTime.fromMillis(job!.earliestDropOff, { zone });
    expect(comes.toFormat('c HH:mm')).toBe('2 13:30');
    expect(DateTime.fromMillis(job!.wantedPickupAt!, { zone }).toISO()).toBe(comes.plus({ days: 2 }).toISO());
    expect([job!.cameAt, job!.leftAt]).toEqual([undefined, undefined]);
  });

  test('carries over nothing that was decided about the cars it is like', () => {
    for (const job of drawnMonth(demand, zone, '2026-04-06', draw)) {
      expect(job).toMatchObject({ state: 'booked', dropOffAt: null, inspection: null, scope: null, arranged: null });
      expect(job.customer.name).toBe('drawn');
    }
  });
});
