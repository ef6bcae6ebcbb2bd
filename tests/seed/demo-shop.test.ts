import { describe, expect, it } from 'vitest';
import { bookingObjections } from '../../src/trade/booking/booking-objections.ts';
import { placesFor } from '../../src/trade/booking/vehicle-fit.ts';
import { judgeConditions } from '../../src/trade/conditions/judge-conditions.ts';
import { dataSheetObjections } from '../../src/trade/cure/data-sheet-objections.ts';
import { demoBook } from '../../src/trade/demo/demo-book.ts';
import { coatingNeed } from '../../src/trade/materials/coating-need.ts';
import type { CoatingId } from '../../src/trade/model/ids.ts';
import { AddOn, HoldPoint, WorkKind } from '../../src/trade/model/recipe.ts';
import type { Instant } from '../../src/trade/model/time.ts';
import { recipeObjections } from '../../src/trade/recipe/recipe-objections.ts';
import { demo } from './demo-shop.ts';

const steps = demo.recipes.flatMap((recipe) => recipe.steps);
const lags = demo.recipes.flatMap((recipe) => recipe.lags);
const monday = Date.UTC(2026, 10, 30, 5) as Instant;

describe('the demo shop', () => {
  it.each(demo.recipes.map((recipe) => [recipe.name, recipe] as const))('plans "%s" without objection', (_, recipe) => {
    expect(recipeObjections(recipe)).toEqual([]);
  });

  it.each(demo.coatings.map((coating) => [coating.name, coating] as const))(
    'has a sound sheet for %s',
    (_, coating) => {
      expect(dataSheetObjections(coating.dataSheet)).toEqual([]);
    },
  );

  it('shows every kind of work except the move, which the plan makes between two stays', () => {
    const missing = WorkKind.options.filter((kind) => !steps.some((step) => step.kind === kind));
    expect(missing).toEqual(['move']);
  });

  it('shows every hold point, add-on and way to be present', () => {
    expect(HoldPoint.options.filter((point) => !steps.some((step) => step.holdPoint === point))).toEqual([]);
    const offered = new Set(steps.flatMap((step) => (step.presence.when === 'addOn' ? [step.presence.addOn] : [])));
    expect(AddOn.options.filter((addOn) => !offered.has(addOn))).toEqual([]);
    expect(new Set(steps.map((step) => step.presence.when))).toEqual(
      new Set(['always', 'addOn', 'defects', 'minerals', 'remedy', 'branch']),
    );
  });

  it.each([
    ['acid is neutralised within 5 minutes (common practice)', 'mineralSpray', 'mineralRinse', 5],
    ['iron and tar remover is rinsed within 10 minutes (common practice)', 'ironTarSpray', 'ironTarRinse', 10],
  ])('%s', (_, from, to, most) => {
    const found = lags.filter((lag) => lag.from.step === from && lag.to.step === to);
    expect(found.length).toBeGreaterThan(0);
    for (const lag of found) expect(lag.max).toEqual({ by: 'minutes', minutes: most });
  });

  it('wipes again, abrades and recoats, or washes again where a window lapses', () => {
    const remedied = new Set(lags.flatMap((lag) => lag.remedy));
    expect([...remedied]).toEqual(expect.arrayContaining(['rewipe', 'abrade1', 'wipe1', 'washAgain', 'mineralAgain']));
  });

  it('keeps clocks that run in seconds out of the lags: no window is shorter than 4 minutes', () => {
    for (const lag of lags) {
      if (lag.max?.by === 'minutes' && lag.min.by === 'minutes') {
        expect(lag.max.minutes - lag.min.minutes).toBeGreaterThanOrEqual(4);
      }
    }
  });

  it('refers only to coatings, zones and places it has', () => {
    const coatings = new Set(demo.coatings.map((coating) => coating.id));
    for (const step of steps) if (step.coatingId) expect(coatings).toContain(step.coatingId);
    const zones = new Set(demo.airZones.map((zone) => zone.id));
    for (const place of demo.places) if (place.airZoneId) expect(zones).toContain(place.airZoneId);
    const places = new Set(demo.places.map((place) => place.id));
    for (const place of demo.places) for (const blocker of place.blockedBy) expect(places).toContain(blocker);
    for (const technician of demo.technicians) {
      for (const certificate of technician.certificates) expect(coatings).toContain(certificate.coatingId);
    }
  });

  it('keeps the air of its coating bays within every sheet at their set points', () => {
    for (const place of demo.places.filter((one) => one.capabilities.includes('coating'))) {
      const zone = demo.airZones.find((one) => one.id === place.airZoneId)!;
      for (const coating of demo.coatings)
        expect(judgeConditions(coating.dataSheet, zone.setPoint).reasons).toEqual([]);
    }
  });

  it('takes every booking of its book without objection, each with the stock that those before it leave', () => {
    const drafts = demoBook(demo.book, demo.shop, monday);
    expect(drafts.length).toBe(23);
    const bookedMillilitres = new Map<CoatingId, number>();
    for (const draft of drafts) {
      const job = { ...draft, dropOffAt: null, scope: null, inspection: null };
      expect(bookingObjections(job, { ...demo, bookedMillilitres }, monday)).toEqual([]);
      const recipe = demo.recipes.find((one) => one.id === draft.recipeId)!;
      for (const [coating, millilitres] of coatingNeed(recipe, draft.vehicle.class, draft.addOns, demo.coatings)) {
        bookedMillilitres.set(coating, (bookedMillilitres.get(coating) ?? 0) + millilitres);
      }
    }
  });

  it('has room for every car in every stay of its recipe', () => {
    for (const entry of demo.book) {
      const recipe = demo.recipes.find((one) => one.id === entry.recipeId)!;
      for (const stay of recipe.stays) expect(placesFor(stay.needs, entry.vehicle, demo.places)).not.toEqual([]);
    }
  });

  it('says of itself, its customers, cars and coatings that they are invented', () => {
    expect(demo.shop.name).toContain('invented');
    for (const coating of demo.coatings) expect(coating.name).toContain('(invented)');
    for (const entry of demo.book) {
      expect(entry.customer.name).toMatch(/^Customer \d\d \(invented\)$/);
      expect(entry.vehicle.description).toContain('(invented)');
      expect(entry.vehicle.registration).toMatch(/^DEMO-\d\d$/);
    }
  });
});
