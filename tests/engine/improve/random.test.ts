import { expect, test } from 'vitest';
import { Random } from '../../../src/engine/improve/random.ts';

test('the same seed gives the same stream, another seed another', () => {
  const stream = (seed: number) => {
    const random = new Random(seed);
    return Array.from({ length: 20 }, () => random.bits());
  };
  expect(stream(7)).toEqual(stream(7));
  expect(stream(7)).not.toEqual(stream(8));
  expect(stream(2 ** 40)).not.toEqual(stream(2 ** 41));
});

test('draws fall evenly: the chi-square statistic of 64 cells stays below its 0.1 % critical value', () => {
  // 103.442 for 63 degrees of freedom: NIST/SEMATECH e-Handbook of Statistical Methods, section 1.3.6.7.4 (from memory).
  const random = new Random(1);
  const cells = new Array<number>(64).fill(0);
  for (let draw = 0; draw < 64_000; draw++) cells[random.below(64)]!++;
  const statistic = cells.reduce((sum, count) => sum + (count - 1000) ** 2 / 1000, 0);
  expect(statistic).toBeLessThan(103.442);
});

test('a shuffle keeps every item', () => {
  const items = Array.from({ length: 30 }, (_, k) => k);
  new Random(5).shuffle(items);
  expect(items).not.toEqual([...items].sort((a, b) => a - b));
  expect([...items].sort((a, b) => a - b)).toEqual(Array.from({ length: 30 }, (_, k) => k));
});
