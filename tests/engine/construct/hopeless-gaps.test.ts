import { expect, test } from 'vitest';
import { NEVER } from '../../../src/engine/calendar/never.ts';
import { HopelessGaps } from '../../../src/engine/construct/hopeless-gaps.ts';
import { seededRandom } from '../random/seeded-random.ts';

test('a gap is hopeless only when one like it failed that began no later and was no shorter', () => {
  const random = seededRandom(7);
  const gaps = new HopelessGaps();
  let hopeless = 0;
  for (let round = 0; round < 200; round++) {
    gaps.reset(3);
    const failed: [suit: number, from: number, until: number][] = [];
    for (let step = 0; step < 12; step++) {
      const [suit, from] = [random.whole(0, 2), random.whole(0, 20)];
      const until = random.chance(0.2) ? NEVER : from + random.whole(0, 20);
      const dominated = failed.some(([s, f, u]) => s === suit && f <= from && u >= until);
      if (gaps.includes(suit, from, until)) {
        expect(dominated).toBe(true);
        hopeless++;
      } else {
        gaps.add(suit, from, until);
        failed.push([suit, from, until]);
        // Of failures that a longer gap might mend only the longest is remembered.
        if (until >= NEVER) expect(gaps.includes(suit, from + 1, 3)).toBe(true);
      }
    }
  }
  expect(hopeless).toBeGreaterThan(100);
});
