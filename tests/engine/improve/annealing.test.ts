import { describe, expect, test } from 'vitest';
import { Annealing } from '../../../src/engine/improve/annealing.ts';
import { Random } from '../../../src/engine/improve/random.ts';

const JOBS = 20;
const current = Float64Array.from([0, 20, 9_000, 500]);
const LEAD = 2;

function heated(tier = LEAD): Annealing {
  const annealing = new Annealing(tier, current.length, JOBS, new Random(1));
  for (let step = 0; annealing.isCold && step < 10_000; step++) annealing.step(step);
  return annealing;
}

/** What may be lost on the average, by many draws. */
function meanLoss(annealing: Annealing): number {
  const draws = 4_000;
  let sum = 0;
  for (let k = 0; k < draws; k++) sum += annealing.limit(current)[LEAD]! - current[LEAD]!;
  return sum / draws;
}

describe('annealing', () => {
  test('stays cold while better plans are found', () => {
    const annealing = new Annealing(LEAD, current.length, JOBS, new Random(1));
    for (let step = 0; step < 10_000; step++) {
      expect(annealing.step(step % (5 * JOBS))).toBe(false);
      expect(annealing.isCold).toBe(true);
    }
  });

  test('never lets a promise, or what comes before lead time, get worse, and does not ask about what comes after', () => {
    const annealing = heated();
    for (let k = 0; k < 1_000; k++) {
      const [broken, tardiness, lead, change] = annealing.limit(current);
      expect([broken, tardiness]).toEqual([0, 20]);
      expect(lead).toBeGreaterThanOrEqual(9_000);
      expect(Number.isFinite(lead)).toBe(true);
      expect(change).toBe(Number.POSITIVE_INFINITY);
    }
  });

  test('takes a loss d with probability exp(-d/T), as Kirkpatrick, Gelatt and Vecchi (1983) have it', () => {
    const annealing = heated();
    const temperature = meanLoss(annealing);
    const draws = 20_000;
    let taken = 0;
    for (let k = 0; k < draws; k++) if (annealing.limit(current)[LEAD]! >= current[LEAD]! + 2 * temperature) taken++;
    expect(taken / draws).toBeCloseTo(Math.exp(-2), 1);
  });

  test('cools evenly, says when it is cold, and is heated again when nothing better comes', () => {
    const annealing = heated();
    const hot = meanLoss(annealing);
    let steps = 0;
    let half = 0;
    const rounds = 100 * JOBS;
    while (!annealing.isCold) {
      const ended = annealing.step(0);
      steps++;
      if (steps === rounds / 2) half = meanLoss(annealing);
      expect(ended).toBe(steps === rounds);
    }
    expect(steps).toBe(rounds);
    expect(half / hot).toBeCloseTo(0.5, 1);
    for (let step = 0; step <= 10 * JOBS; step++) annealing.step(step);
    expect(annealing.isCold).toBe(false);
  });

  test('stays cold where no lead time is to be saved', () => {
    expect(heated(-1).isCold).toBe(true);
  });
});
