import { describe, expect, it } from 'vitest';
import { bookingObjections } from '../../../src/trade/booking/booking-objections.ts';
import type { BookedJob, BookingShop } from '../../../src/trade/booking/objection.ts';
import { demoBook } from '../../../src/trade/demo/demo-book.ts';
import type { Instant } from '../../../src/trade/model/time.ts';
import { demo } from '../../seed/demo-shop.ts';

const now = Date.UTC(2026, 10, 30, 5) as Instant;
const draft = demoBook(demo.book, demo.shop, now)[0]!;
const job: BookedJob = { ...draft, dropOffAt: null, scope: null, inspection: null };
const vehicle = (change: object): BookedJob => ({ ...job, vehicle: { ...job.vehicle, ...change } });
const objections = (asked: BookedJob, shop: BookingShop = demo) =>
  bookingObjections(asked, shop, now).map(({ field, severity }) => [field, severity]);

describe('a booking', () => {
  it('of an ordinary car meets no objection', () => {
    expect(objections(job)).toEqual([]);
  });

  it('of a recipe the shop does not have is refused', () => {
    expect(objections({ ...job, recipeId: 'unheardOf' as never })).toEqual([['recipeId', 'refuse']]);
  });

  it('of an add-on that the recipe has no step for is refused', () => {
    expect(objections({ ...job, recipeId: 'walkInWash' as never, addOns: ['film'] })).toEqual([['addOns.0', 'refuse']]);
  });

  it('in the past is refused', () => {
    expect(objections({ ...job, dropOffAt: (now - 60_000) as Instant })).toEqual([['dropOffAt', 'refuse']]);
  });

  it('of a van too high for a stay is refused with the field and the figures', () => {
    const found = bookingObjections(vehicle({ heightMm: 2700 }), demo, now);
    expect(found.length).toBeGreaterThan(0);
    expect(new Set(found.map((one) => one.field))).toEqual(new Set(['vehicle.heightMm']));
    expect(found[0]!.text).toContain('2700 mm high');
    expect(found[0]!.text).toContain('2600 mm');
  });

  it('of a car too high for the lift bay is refused only when an add-on brings it there', () => {
    // The one bay for interior work takes 2400 mm.
    const tall = vehicle({ heightMm: 2500 });
    expect(objections({ ...tall, recipeId: 'correction' as never })).toEqual([]);
    expect(objections({ ...tall, recipeId: 'correction' as never, addOns: ['interior'] })).toEqual([
      ['vehicle.heightMm', 'refuse'],
    ]);
  });

  it('of a car too long for every bay is refused', () => {
    expect(objections(vehicle({ lengthMm: 5900 }))).toContainEqual(['vehicle.lengthMm', 'refuse']);
  });
});

describe("a repaint (common practice: 30 to 90 days, or the painter's word)", () => {
  const dropOffDay = '2026-11-30';
  const repaint = (paintedOn: string, painterCleared = false) =>
    vehicle({ repaints: [{ panel: 'roof', paintedOn, painterCleared }] });

  it.each([
    ['2026-11-01', 29, 'refuse'],
    ['2026-10-31', 30, 'ask'],
    ['2026-09-02', 89, 'ask'],
  ])(`of %s is %d days old on ${dropOffDay}: %s`, (paintedOn, days, severity) => {
    const found = bookingObjections(repaint(paintedOn), demo, now);
    expect(found.map((one) => [one.field, one.severity])).toEqual([['vehicle.repaints.0', severity]]);
    expect(found[0]!.text).toContain(`${days} days`);
  });

  it('of 90 days, or cleared by the painter, is coated', () => {
    expect(objections(repaint('2026-09-01'))).toEqual([]);
    expect(objections(repaint('2026-11-25', true))).toEqual([]);
  });

  it('does not matter to a wash', () => {
    expect(objections({ ...repaint('2026-11-25'), recipeId: 'walkInWash' as never })).toEqual([]);
  });
});

describe('certificates and stock', () => {
  it('stop a booking when nobody holds a certificate that is valid on the day', () => {
    const technicians = demo.technicians.map((one) => ({
      ...one,
      certificates: one.certificates.map((certificate) => ({ ...certificate, expiresOn: '2026-11-29' })),
    }));
    const found = bookingObjections(job, { ...demo, technicians }, now);
    expect(found.map((one) => [one.field, one.severity])).toEqual([['recipeId', 'refuse']]);
    expect(found[0]!.text).toContain('certificate for One coat C (invented) valid on 2026-11-30; 0 in the shop');
  });

  it('count a certificate on its last day', () => {
    const technicians = demo.technicians.map((one) => ({
      ...one,
      certificates: one.certificates.map((certificate) => ({ ...certificate, expiresOn: '2026-11-30' })),
    }));
    expect(objections(job, { ...demo, technicians })).toEqual([]);
  });

  it('ask when the coating will have run out, other bookings counted', () => {
    const coatings = demo.coatings.map((one) =>
      one.id === 'oneCoatC' ? { ...one, stock: one.stock.slice(0, 1) } : one,
    );
    expect(objections(job, { ...demo, coatings })).toEqual([]);
    const bookedMillilitres = new Map([['oneCoatC' as never, 40]]);
    expect(objections(job, { ...demo, coatings, bookedMillilitres })).toEqual([['recipeId', 'ask']]);
  });

  it('refuse a recipe that lays a coating the shop does not know', () => {
    const coatings = demo.coatings.filter((one) => one.id !== 'oneCoatC');
    const found = objections(job, { ...demo, coatings });
    expect(found.length).toBeGreaterThan(0);
    expect(new Set(found.map(String))).toEqual(new Set(['recipeId,refuse']));
  });
});
