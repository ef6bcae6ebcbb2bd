import { expect, test } from 'vitest';
import type { CarOnFloor } from '../../../src/shop/floor/gates/situation.ts';
import { whatHappened } from '../../../src/shop/floor/what-happened.ts';
import { promisesDue } from '../../../src/shop/utilisation/promises-of-week.ts';
import { FloorEvent } from '../../../src/trade/model/job.ts';
import type { Instant } from '../../../src/trade/model/time.ts';
import { demoRecipe } from '../../seed/demo-shop.ts';
import { at } from '../a-shop.ts';

const monday = at('2026-03-02T00:00+01:00');
const hour = (hours: number) => (monday + hours * 3_600_000) as Instant;

/** A car promised for an hour of the week, with work that ended at others. */
function aPromise(promised: number, ended: Record<string, number>, state = 'inShop'): CarOnFloor {
  const events = Object.entries(ended).flatMap(([operation, end], index) =>
    (['started', 'finished'] as const).map((kind, edge) =>
      FloorEvent.parse({
        jobId: 'car',
        clientId: `tablet-${index}-${edge}`,
        occurredAt: hour(end - 1 + edge),
        recordedAt: hour(end),
        sequence: index * 2 + edge,
        fact: kind === 'started' ? { kind, operation, by: [] } : { kind, operation },
      }),
    ),
  );
  const job = { state, promise: { pickupAt: hour(promised), givenAt: monday, confidencePercent: 90 } };
  return { job, recipe: demoRecipe('maintenance'), happened: whatHappened(events, hour(200)) } as unknown as CarOnFloor;
}

test('a promise is kept when all work but the handover was done by then, whenever the customer came', () => {
  const kept = aPromise(12, { maintenanceWash: 9, finalInspection: 11, handover: 20 });
  const late = aPromise(12, { maintenanceWash: 9, finalInspection: 13, handover: 14 });
  expect(promisesDue([kept, late], monday, hour(168), hour(100))).toEqual({ due: 2, kept: 1, broken: 1, open: 0 });
});

test('a promise is open until its hour, and broken from then on while the car is not ready', () => {
  const waiting = aPromise(50, { maintenanceWash: 9 });
  expect(promisesDue([waiting], monday, hour(168), hour(49))).toEqual({ due: 1, kept: 0, broken: 0, open: 1 });
  expect(promisesDue([waiting], monday, hour(168), hour(51))).toEqual({ due: 1, kept: 0, broken: 1, open: 0 });
});

test('promises of another week, and those of cancelled jobs, are not due', () => {
  const next = aPromise(170, {});
  const cancelled = aPromise(50, {}, 'cancelled');
  expect(promisesDue([next, cancelled], monday, hour(168), hour(100)).due).toBe(0);
});
