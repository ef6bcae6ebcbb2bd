import { describe, expect, test } from 'vitest';
import { answerScope } from '../../../src/shop/inspection/answer-scope.ts';
import { defaultScopes } from '../../../src/shop/inspection/default-scopes.ts';
import { recordInspection } from '../../../src/shop/inspection/record-inspection.ts';
import { WrongState } from '../../../src/shop/problems/problems.ts';
import { Inspection } from '../../../src/trade/model/condition.ts';
import { PanelName } from '../../../src/trade/model/vehicle.ts';
import { aCar, minute, place } from '../floor/a-car.ts';

const film = (panel: PanelName, micrometres: number) => ({
  panel,
  micrometres,
  gaugeErrorMicrometres: 3,
  at: minute(100),
});

/** An inspection that found one grade of defects all over the car, on paint of 120 micrometres but for what is said. */
function found(defects: number, thin: Partial<Record<PanelName, number>> = {}): Inspection {
  return Inspection.parse({
    at: minute(100),
    panels: PanelName.options.map((panel) => ({ panel, defects })),
    film: PanelName.options
      .filter((panel) => !panel.endsWith('Bumper'))
      .map((panel) => film(panel, thin[panel] ?? 120)),
    paintHardness: 'medium',
  });
}

async function inspectedCar(inspection: Inspection) {
  const car = await aCar();
  const { value: wanted } = (await car.deps.store.jobs.get(car.shopId, car.jobId))!;
  expect(wanted.condition.defects).toBe(1);
  await car.tell(0, { kind: 'arrived', placeId: place('holdFront') });
  car.setNow(minute(105));
  const { version } = (await car.deps.store.jobs.get(car.shopId, car.jobId))!;
  const input = { shopId: car.shopId, jobId: car.jobId };
  const revised = await recordInspection(car.deps, { ...input, expectedVersion: version, inspection });
  return { ...car, input, revised };
}

describe('an inspection on clean paint', () => {
  test('that finds more than was booked revises passes and price, and asks the customer', async () => {
    const { revised } = await inspectedCar(found(3));
    expect(revised.job.scope?.answer).toBe('awaited');
    expect(revised.correctionPasses).toBeGreaterThan(1);
    expect(revised.priceMinor).toBeGreaterThan(revised.priceBeforeMinor);
    // The demo shop gives a customer two hours to answer.
    expect(revised.answerBy).toBe(minute(105 + 120));
    expect(revised.readyAt).toBeGreaterThan(minute(105));
  });

  test('that finds what was booked needs no answer', async () => {
    const { revised } = await inspectedCar(found(1));
    expect(revised.job.scope?.answer).toBe('defaulted');
  });

  test('refuses a cut that could take a panel below the film floor, naming panel and figures', async () => {
    // The demo shop's floor is 80 micrometres; a compounding pass may cut 3, a gauge errs by 3 (common practice).
    const { revised } = await inspectedCar(found(3, { bonnet: 84 }));
    expect(revised.refusedPanels).toHaveLength(1);
    expect(revised.refusedPanels[0]!.text).toMatch(/bonnet reads 84 ± 3 µm.*below the floor of 80 µm/);
    expect(revised.job.scope?.sparedPanels).toEqual(['bonnet']);
    const { revised: whole } = await inspectedCar(found(3));
    expect(revised.priceMinor).toBeLessThan(whole.priceMinor);
  });

  test('leaves plastic to the lead', async () => {
    const { revised } = await inspectedCar(found(3));
    expect(revised.leadDecides.join(' ')).toMatch(/front bumper is plastic/);
  });
});

describe('the customer’s answer', () => {
  test('yes takes the revised scope and price', async () => {
    const { deps, input, revised } = await inspectedCar(found(3));
    const { job } = await answerScope(deps, { ...input, expectedVersion: revised.job.version, answer: 'approved' });
    expect(job.scope).toMatchObject({ answer: 'approved', correctionPasses: revised.correctionPasses });
    expect(job.priceMinor).toBe(revised.priceMinor);
    const again = answerScope(deps, { ...input, expectedVersion: job.version, answer: 'declined' });
    await expect(again).rejects.toThrow(WrongState);
  });

  test('no keeps to what was booked', async () => {
    const { deps, input, revised } = await inspectedCar(found(3));
    const { job } = await answerScope(deps, { ...input, expectedVersion: revised.job.version, answer: 'declined' });
    expect(job.scope?.correctionPasses).toBe(1);
    expect(job.priceMinor).toBeLessThan(revised.priceMinor);
  });

  test('that does not come by the deadline is the default scope, and not before', async () => {
    const { deps, shopId, jobId, setNow, revised } = await inspectedCar(found(3));
    setNow((revised.answerBy - 1) as typeof revised.answerBy);
    expect(await defaultScopes(deps, { shopId })).toEqual([]);
    setNow(revised.answerBy);
    expect(await defaultScopes(deps, { shopId })).toEqual([jobId]);
    expect((await deps.store.jobs.get(shopId, jobId))?.value.scope).toMatchObject({
      answer: 'defaulted',
      correctionPasses: 1,
    });
    expect(await defaultScopes(deps, { shopId })).toEqual([]);
  });
});
