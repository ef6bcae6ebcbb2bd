import jStat from 'jstat';
import { expect, test } from 'vitest';
import { studentQuantile } from '../../../src/shop/utilisation/student-t.ts';

test("quantiles of Student's t are those of the printed tables", () => {
  // NIST/SEMATECH e-Handbook of Statistical Methods, 1.3.6.7.2, upper critical values, 0.975; from memory.
  const table: [degrees: number, quantile: number][] = [
    [1, 12.706],
    [2, 4.303],
    [3, 3.182],
    [5, 2.571],
    [10, 2.228],
    [30, 2.042],
    [100, 1.984],
  ];
  for (const [degrees, quantile] of table) {
    expect(Math.abs(studentQuantile(0.975, degrees) - quantile)).toBeLessThan(0.005);
  }
});

test("and those of jStat's, an independent library", () => {
  for (const degrees of [1, 2, 3, 4, 7, 12, 25, 60, 400]) {
    for (const p of [0.6, 0.8, 0.9, 0.95, 0.975]) {
      expect(Math.abs(studentQuantile(p, degrees) - jStat.studentt.inv(p, degrees))).toBeLessThan(0.005);
    }
  }
});
