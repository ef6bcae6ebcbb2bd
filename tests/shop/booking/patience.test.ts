import { expect, it } from 'vitest';
import { alone, patienceAfter } from '../../../src/shop/booking/patience.ts';

it('whoever asks a second after the one before is kept as long as somebody who asks alone', () => {
  const { mostMs } = alone(() => 0);
  expect(patienceAfter(1000)).toBe(mostMs());
  expect(patienceAfter(Number.POSITIVE_INFINITY)).toBe(mostMs());
});

it('a desk that is asked many times a second spends a tenth of it on further choices', () => {
  for (const gap of [0, 100, 300]) expect(patienceAfter(gap)).toBeCloseTo(gap / 10);
});
