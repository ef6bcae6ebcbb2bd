import { describe, expect, test } from 'vitest';
import type { CarOnFloor } from '../../../src/shop/floor/gates/situation.ts';
import { workByItself } from '../../../src/shop/utilisation/by-itself.ts';
import { minutesAt } from '../../../src/trade/cure/data-sheet-at.ts';
import type { WorkRecord } from '../../../src/trade/formulate/floor-record.ts';
import type { PlaceId } from '../../../src/trade/model/ids.ts';
import type { Instant } from '../../../src/trade/model/time.ts';
import { demo, demoRecipe } from '../../seed/demo-shop.ts';
import { at } from '../a-shop.ts';

const recipe = demoRecipe('oneLayerCeramic');
const bay = demo.places.find(({ id }) => id === 'bay3')!;
const MINUTE = 60_000;

const done = (from: Instant, to: Instant): WorkRecord =>
  ({ state: 'finished', pieces: [{ from, to, by: [] }] }) as unknown as WorkRecord;

/** A car in the clean room from 13:00 on, coated from 14:00 to 15:00. */
function coated(more: Readonly<Record<string, WorkRecord>> = {}, until: Instant | null = null): CarOnFloor {
  const work = new Map([['coat', done(at('2026-03-03T14:00+01:00'), at('2026-03-03T15:00+01:00'))]]);
  for (const [key, record] of Object.entries(more)) work.set(key, record);
  const stays = [{ placeId: bay.id as PlaceId, from: at('2026-03-03T13:00+01:00'), to: until }];
  return { recipe, happened: { work, stays, arrivedAt: stays[0]!.from, pickedUpAt: until } } as unknown as CarOnFloor;
}

/** Minutes after 15:00. */
const spansOf = (car: CarOnFloor) =>
  workByItself(car, demo).map(({ from, to }) =>
    [from, to].map((edge) => Math.round((edge - at('2026-03-03T15:00+01:00')) / MINUTE)),
  );

const minutesOf = (key: string) => {
  const { duration, coatingId } = recipe.steps.find((step) => step.key === key)!;
  if (duration.by !== 'dataSheet') throw new Error(`${key} has no data sheet`);
  const air = demo.airZones.find(({ id }) => id === bay.airZoneId)!.setPoint;
  return minutesAt(demo.coatings.find(({ id }) => id === coatingId)!.dataSheet, duration.item, air);
};

describe('a coated car that is out of the plan', () => {
  test('dried and cured from the end of the coating on, one after the other, as long as the data sheet says', () => {
    const dry = Math.round(minutesOf('touchDry'));
    expect(spansOf(coated())).toEqual([
      [0, dry],
      [dry, Math.round(minutesOf('touchDry') + minutesOf('cureWait'))],
    ]);
  });

  test('cured no longer than until the next work on it began', () => {
    const inspected = done(at('2026-03-03T17:00+01:00'), at('2026-03-03T17:30+01:00'));
    expect(spansOf(coated({ finalInspection: inspected })).at(-1)![1]).toBe(120);
  });

  test('cured no longer than it stood there', () => {
    expect(spansOf(coated({}, at('2026-03-03T18:00+01:00'))).at(-1)![1]).toBe(180);
  });

  test('did not wait for its cure when it stood under lamps instead', () => {
    const lamps = done(at('2026-03-03T16:30+01:00'), at('2026-03-03T18:30+01:00'));
    expect(spansOf(coated({ lampCure: lamps }))).toEqual([[0, Math.min(90, Math.round(minutesOf('touchDry')))]]);
  });
});
