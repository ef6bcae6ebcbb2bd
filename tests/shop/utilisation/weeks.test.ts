import { expect, test } from 'vitest';
import { weekUtilisation } from '../../../src/shop/utilisation/week.ts';
import { weekTotals } from '../../../src/shop/utilisation/weeks.ts';
import { aShop } from '../a-shop.ts';

test('each week of a trend is what its bays add up to, and its parts add up to the hours open', async () => {
  const { deps, shopId } = await aShop();
  const weeks = await weekTotals(deps, { shopId, monday: '2026-03-30', before: 1, after: 1 });
  // The clocks go forward on Sunday 29 March 2026, which is closed: no week has an hour less.
  expect(weeks.map(({ monday }) => monday)).toEqual(['2026-03-23', '2026-03-30', '2026-04-06']);
  for (const week of weeks) {
    const { bays } = await weekUtilisation(deps, { shopId, monday: week.monday });
    expect(week.open).toBe(bays.reduce((sum, bay) => sum + bay.open, 0));
    expect(week.worked + week.curing + week.waiting + week.blocked + week.empty).toBe(week.open);
  }
  // Five days of 10.5 hours and a Saturday of four, in four bays.
  expect(weeks[0]?.open).toBe(4 * (5 * 630 + 240));
});

test('a day that is no Monday begins no week', async () => {
  const { deps, shopId } = await aShop();
  await expect(weekTotals(deps, { shopId, monday: '2026-03-03', before: 0, after: 0 })).rejects.toThrow('not a Monday');
});
