import { describe, expect, it } from 'vitest';
import { calibration } from '../../../src/promise/calibrate/calibration.ts';
import { quantileLoss } from '../../../src/promise/calibrate/scores.ts';
import { correctedSpreadFactor } from '../../../src/promise/calibrate/spread-factor.ts';
import { mix, uniform } from '../../../src/promise/simulate/seeded-draws.ts';
import { normalQuantile } from '../../../src/promise/spread/standard-normal.ts';
import { outcome } from './outcome.ts';

/** Promises from a normal forecast of a deviation, kept or broken by a truth of another. Invented. */
function promises(count: number, forecastDeviation: number, trueDeviation: number, seed: number) {
  return Array.from({ length: count }, (_, k) => {
    const confidence = [0.8, 0.9, 0.95][k % 3]!;
    return outcome({
      confidence,
      promisedAt: 1000 + forecastDeviation * normalQuantile(confidence),
      medianAt: 1000,
      achievedAt: 1000 + trueDeviation * normalQuantile(uniform(mix(seed), mix(k))),
      recipe: k % 2 === 0 ? 'coating' : 'wash',
    });
  });
}

describe('calibration', () => {
  it('leaves the spread alone while promises are kept as often as said', () => {
    const report = calibration(promises(1500, 60, 60, 3));
    expect(report.coverage.map(({ confidence, promises }) => [Math.round(confidence * 100), promises])).toEqual([
      [80, 500],
      [90, 500],
      [95, 500],
    ]);
    expect(report.coverage.every(({ verdict }) => verdict === 'asSaid')).toBe(true);
    expect(report.spreadFactor).toBe(1);
  });

  it('finds by how much a shop was too sure', () => {
    const report = calibration(promises(3000, 60, 90, 2));
    expect(report.coverage.map(({ verdict }) => verdict)).toEqual(['tooSure', 'tooSure', 'tooSure']);
    expect(report.spreadFactor).toBeGreaterThan(1.42);
    expect(report.spreadFactor).toBeLessThan(1.58);
  });

  it('finds by how much it was too careful', () => {
    const report = calibration(promises(3000, 60, 30, 3));
    expect(report.coverage.map(({ verdict }) => verdict)).toContain('tooCareful');
    expect(report.spreadFactor).toBeGreaterThan(0.45);
    expect(report.spreadFactor).toBeLessThan(0.55);
  });

  it('corrects by the factor of least pinball loss, found also by trying many', () => {
    const given = promises(301, 40, 70, 4);
    const loss = (factor: number) =>
      given.reduce(
        (sum, { medianAt, promisedAt, achievedAt, confidence }) =>
          sum + quantileLoss(achievedAt, medianAt + factor * (promisedAt - medianAt), confidence),
        0,
      );
    const best = loss(correctedSpreadFactor(given)!);
    for (let factor = 0; factor < 4; factor += 0.001) expect(best).toBeLessThanOrEqual(loss(factor) + 1e-9);
  });

  it('says nothing of the spread after a handful of promises', () => {
    expect(correctedSpreadFactor(promises(29, 60, 200, 5))).toBeNull();
    expect(calibration(promises(6, 60, 200, 5)).spreadFactor).toBe(1);
  });

  it('names the recipe that runs late', () => {
    const late = promises(200, 60, 60, 6).map((each) =>
      each.recipe === 'wash' ? { ...each, achievedAt: each.achievedAt + 45 } : each,
    );
    const { byRecipe } = calibration(late);
    expect(byRecipe[0]).toMatchObject({ of: 'wash', clear: true, promises: 100 });
    expect(byRecipe[0]!.meanMinutes).toBeGreaterThan(25);
    expect(byRecipe[1]!.of).toBe('coating');
  });

  it('names a person only where somebody stands out', () => {
    const { byPerson } = calibration([
      outcome(),
      outcome({ person: 'Ada', achievedAt: 930 }),
      outcome({ person: 'Ada' }),
    ]);
    expect(byPerson).toMatchObject([{ of: 'Ada', promises: 2, meanMinutes: 40, clear: false }]);
  });

  it('of no promises is empty', () => {
    expect(calibration([])).toMatchObject({ promises: 0, brierScore: null, coverage: [], spreadFactor: 1 });
  });
});
