import { expect, test } from 'vitest';
import { normalProbability } from '../../src/promise/normal.ts';

// Abramowitz and Stegun (1964), tables 26.1 and 26.5.
test.each([
  [0, 0.5],
  [0.5, 0.6914624613],
  [1, 0.8413447461],
  [1.6448536, 0.95],
  [1.959964, 0.975],
  [2.3263479, 0.99],
  [3, 0.998650102],
])('below %f deviations lies a share of %f', (z, share) => {
  expect(normalProbability(z)).toBeCloseTo(share, 6);
  expect(normalProbability(-z)).toBeCloseTo(1 - share, 6);
});
