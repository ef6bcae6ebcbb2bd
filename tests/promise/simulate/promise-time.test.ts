import { describe, expect, it } from 'vitest';
import { earliestPromise } from '../../../src/promise/simulate/promise-time.ts';

const DAY = 1440;
const pickupOpen = [0, 1].map((day) => ({ from: day * DAY + 480, to: day * DAY + 1020 }));
/** Ready in every minute from 9:01 to 15:40 with the same probability. */
const pickup = Array.from({ length: 400 }, (_, k) => 541 + k);

describe('the time to promise', () => {
  it('is the first quarter of an hour that is kept with the asked probability', () => {
    // 90 % are ready by minute 900, 15:00; 80 % by 860, so 14:30 (870) keeps 82.5 %.
    expect(earliestPromise(pickup, 0.9, pickupOpen)).toEqual({ at: 900, probability: 0.9 });
    expect(earliestPromise(pickup, 0.8, pickupOpen)).toEqual({ at: 870, probability: 0.825 });
  });

  it('is the next opening when the round time falls after closing', () => {
    const late = pickup.map((minute) => minute + 100);
    expect(earliestPromise(late, 0.95, pickupOpen)).toEqual({ at: DAY + 480, probability: 1 });
  });

  it('is none beyond the hours given', () => {
    expect(earliestPromise([5 * DAY], 0.9, pickupOpen)).toBeNull();
  });

  it('needs a probability and a step', () => {
    expect(() => earliestPromise(pickup, 1, pickupOpen)).toThrow('confidence is 1');
    expect(() => earliestPromise(pickup, 0.9, pickupOpen, 0)).toThrow('roundTo is 0');
  });
});
