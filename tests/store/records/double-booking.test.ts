import fc from 'fast-check';
import { expect, it } from 'vitest';
import { DoubleBooking } from '../../../src/store/contract/errors.ts';
import { refuseOverlaps } from '../../../src/store/records/double-booking.ts';
import { Instant } from '../../../src/trade/model/time.ts';

interface Taken {
  readonly placeId: string;
  readonly from: Instant;
  readonly to: Instant;
}

/** Every pair compared: the definition itself. */
const overlapSomewhere = (taken: readonly Taken[]): boolean =>
  taken.some((a, i) => taken.some((b, j) => i < j && a.placeId === b.placeId && a.from < b.to && b.from < a.to));

const taken = fc
  .record({ placeId: fc.constantFrom('a', 'b'), from: fc.nat(20), length: fc.integer({ min: 1, max: 6 }) })
  .map(({ placeId, from, length }) => ({ placeId, from: Instant.parse(from), to: Instant.parse(from + length) }));

it('stretches of one place are refused exactly when two of them share a moment', () => {
  fc.assert(
    fc.property(fc.array(taken, { maxLength: 8 }), (list) => {
      let refused = false;
      try {
        refuseOverlaps(list);
      } catch (error) {
        if (!(error instanceof DoubleBooking)) throw error;
        refused = true;
      }
      expect(refused).toBe(overlapSomewhere(list));
    }),
    { seed: 20_260_302, numRuns: 500 },
  );
});
