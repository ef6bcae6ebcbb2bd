import { describe, expect, it } from 'vitest';
import { GateShut } from '../../../../src/shop/problems/problems.ts';
import { aWipedCar, type Car } from '../a-car.ts';

const DAY = 1440;

/** Rules and words of what stands against a start; none when it was started. */
async function against(start: ReturnType<Car['start']>): Promise<readonly string[]> {
  try {
    await start;
    return [];
  } catch (problem) {
    if (!(problem instanceof GateShut)) throw problem;
    return problem.objections.map(({ rule, text }) => `${rule}: ${text}`);
  }
}

describe('before the final inspection the coating cures, by lamp or by waiting', () => {
  it('so that it does not begin on a car that is not coated', async () => {
    const car = await aWipedCar();
    const said = await against(car.start(505, 'finalInspection', 'ash'));
    expect(said).toEqual([
      'order: Cure until it may be used or Cure with the infra-red lamp comes before it and is not finished.',
    ]);
  });

  it('nor on one that was just coated', async () => {
    const car = await aWipedCar();
    await car.done('coat', 505, 590, 'ash');
    expect(await against(car.start(700, 'finalInspection', 'ash'))).not.toEqual([]);
  });

  it('but after the lamp', async () => {
    const car = await aWipedCar();
    await car.done('coat', 505, 590, 'ash');
    await car.done('lampCure', DAY, DAY + 120, 'birch');
    expect(await against(car.start(DAY + 125, 'finalInspection', 'ash'))).toEqual([]);
  });

  it('or when nobody lit a lamp and it has stood long enough', async () => {
    const car = await aWipedCar();
    await car.done('coat', 505, 590, 'ash');
    // The seed's data sheets call no coating release-safe later than after two days.
    expect(await against(car.start(3 * DAY, 'finalInspection', 'ash'))).toEqual([]);
  });
});
