import jStat from 'jstat';
import { describe, expect, it } from 'vitest';
import { inverseOf } from '../../../src/promise/spread/positive-definite.ts';
import { seededRandom } from '../../engine/random/seeded-random.ts';

describe('the inverse of a positive definite matrix', () => {
  it('is what jStat computes by elimination', () => {
    const random = seededRandom(4);
    for (const size of [1, 2, 5, 9]) {
      const factor = Array.from({ length: size }, () => Array.from({ length: size }, () => random.whole(-9, 9) / 3));
      const matrix = factor.map((row, i) =>
        factor.map((other, j) => row.reduce((sum, value, k) => sum + value * other[k]!, i === j ? 1 : 0)),
      );
      const inverse = inverseOf(matrix.map((row) => Float64Array.from(row)));
      const expected = jStat.inv(matrix);
      for (let i = 0; i < size; i++)
        for (let j = 0; j < size; j++) expect(inverse[i]![j]).toBeCloseTo(expected[i]![j]!, 8);
    }
  });

  it('does not exist for a matrix that is not', () => {
    expect(() => inverseOf([Float64Array.of(1, 2), Float64Array.of(2, 1)])).toThrow('not positive definite in row 1');
  });
});
