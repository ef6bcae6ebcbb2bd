import { DateTime } from 'luxon';
import { describe, expect, test } from 'vitest';
import { check } from '../../../src/engine/check/check.ts';
import { book } from '../../../src/shop/booking/book.ts';
import { draftPlan } from '../../../src/shop/planning/draft-plan.ts';
import { loadBook } from '../../../src/shop/planning/load-book.ts';
import type { CarForecast } from '../../../src/shop/promises/plan-outlook.ts';
import { type Endangered, remedyVariants } from '../../../src/shop/promises/remedy-variants.ts';
import type { Book } from '../../../src/trade/formulate/book.ts';
import { formulate } from '../../../src/trade/formulate/formulate.ts';
import type { Instant } from '../../../src/trade/model/time.ts';
import { aRequest } from '../a-request.ts';
import { aShop, MONDAY_8 } from '../a-shop.ts';

const NOBODY_TO_BLAME = { earliest: null, blame: { operations: [] } } as unknown as CarForecast;

/** A car that is booked for a coating, with the plan in which it waits for its cure. */
async function aCarToBeCoated() {
  const { deps, shopId } = await aShop();
  const request = aRequest('oneLayerCeramic');
  const sale = { shopId, request, dropOffAt: MONDAY_8, pickupAt: null, depositNote: '' };
  const view = await book(deps, sale);
  const loaded = await loadBook(deps.store, shopId, deps.clock());
  const drafted = (given: Book) => draftPlan(deps, given, { reason: 'tried', workLimit: 5_000 });
  const endangered = (given: Book): Endangered => {
    const job = given.jobs.find(({ id }) => id === view.job.id)! as Endangered['job'];
    const ahead = given.previousPlan!.operations.filter(({ jobId }) => jobId === job.id);
    return { book: given, job, ahead, forecast: NOBODY_TO_BLAME };
  };
  return { loaded, jobId: view.job.id, drafted, endangered };
}

/** The book planned with waiting for the cure as the only way: what of it is a lamp is out of order. */
async function asItWaits({ loaded, drafted }: Awaited<ReturnType<typeof aCarToBeCoated>>): Promise<Book> {
  const lampless = { ...loaded, equipment: loaded.equipment.filter(({ kind }) => kind !== 'infraRedLamp') };
  const { plan } = await drafted({ ...lampless, previousPlan: null });
  return { ...loaded, previousPlan: plan };
}

describe('curing by lamp instead of by waiting', () => {
  test('is planned with the lamp and somebody who watches it, obeys every rule, and the car is ready sooner', async () => {
    const car = await aCarToBeCoated();
    const waiting = await asItWaits(car);
    expect(waiting.previousPlan!.operations.some(({ operation }) => operation === 'cureWait')).toBe(true);
    const variant = remedyVariants(car.endangered(waiting)).find(({ kind }) => kind === 'lamps')!;
    const { plan, formulation, schedule } = await car.drafted(variant.book);
    expect(check(formulation.problem, schedule)).toEqual([]);
    const cure = plan.operations.find(({ operation }) => operation === 'lampCure')!;
    expect(cure.people.length).toBeGreaterThan(0);
    expect(plan.operations.some(({ operation }) => operation === 'cureWait')).toBe(false);
    const readyAt = (of: typeof plan) => of.jobs.find(({ jobId }) => jobId === car.jobId)!.readyAt;
    expect(readyAt(plan)).toBeLessThan(readyAt(waiting.previousPlan!));
  });

  test('is no remedy where the plan cures by lamp already', async () => {
    const car = await aCarToBeCoated();
    const waiting = await asItWaits(car);
    const { plan } = await car.drafted(
      remedyVariants(car.endangered(waiting)).find(({ kind }) => kind === 'lamps')!.book,
    );
    const lit = { ...waiting, previousPlan: plan };
    expect(remedyVariants(car.endangered(lit)).map(({ kind }) => kind)).not.toContain('lamps');
  });
});

describe('staying longer', () => {
  test('is two hours after the shift of those planned on the car, on at most three evenings, and of nobody who is off', async () => {
    const car = await aCarToBeCoated();
    const waiting = await asItWaits(car);
    const own = new Set(car.endangered(waiting).ahead.flatMap(({ people }) => people));
    const [away] = own;
    const off = { date: '2026-03-02', kind: 'off', parts: [], note: '' } as never;
    const technicians = waiting.technicians.map((person) =>
      person.id === away ? { ...person, exceptions: [...person.exceptions, off] } : person,
    );
    const variant = remedyVariants(car.endangered({ ...waiting, technicians })).find(
      ({ kind }) => kind === 'overtime',
    )!;
    expect(variant.technicians.length).toBeGreaterThan(0);
    let minutes = 0;
    for (const person of variant.technicians) {
      expect(own.has(person.id)).toBe(true);
      const before = technicians.find(({ id }) => id === person.id)!.exceptions.length;
      const evenings = person.exceptions.slice(before);
      expect(evenings.length).toBeLessThanOrEqual(3);
      for (const { date, kind, parts } of evenings) {
        expect(kind).toBe('overtime');
        if (person.id === away) expect(date).not.toBe('2026-03-02');
        const [part] = parts;
        const from = DateTime.fromISO(`${date}T${part!.from}`);
        expect(DateTime.fromISO(`${date}T${part!.to}`).diff(from).as('minutes')).toBe(120);
        minutes += 120;
      }
    }
    expect(variant.overtimeMinutes).toBe(minutes);
  });

  test('gives the plan the hours of those evenings, and makes no car ready later', async () => {
    const car = await aCarToBeCoated();
    const waiting = await asItWaits(car);
    const variant = remedyVariants(car.endangered(waiting)).find(({ kind }) => kind === 'overtime')!;
    const { resources } = formulate(variant.book).problem;
    const until = (given: Book) => formulate(given).problem.resources.map(({ open }) => open);
    expect(resources.some(({ overtime }) => overtime !== undefined)).toBe(true);
    expect(until(variant.book)).not.toEqual(until(waiting));
    const { formulation, schedule, plan } = await car.drafted(variant.book);
    expect(check(formulation.problem, schedule)).toEqual([]);
    const readyAt = (of: typeof plan): Instant => of.jobs.find(({ jobId }) => jobId === car.jobId)!.readyAt;
    expect(readyAt(plan)).toBeLessThanOrEqual(readyAt(waiting.previousPlan!));
  });
});
