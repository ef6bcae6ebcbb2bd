import { expect, test } from 'vitest';
import { enterSchedule } from '../../../src/engine/construct/enter-schedule.ts';
import type { Problem } from '../../../src/engine/problem/problem.ts';
import type { Schedule } from '../../../src/engine/problem/solution.ts';
import { loadDemo } from '../../../src/shop/demo/load-demo.ts';
import type { Planner } from '../../../src/shop/planning/planner.ts';
import { bookOf } from '../../engine/construct/small-shop.ts';
import { aShop, at } from '../a-shop.ts';

/** The first problem that was planned from a plan that stood, with that plan. */
async function firstAsked(now: string): Promise<{ problem: Problem; warmStart: Schedule }> {
  const { deps } = await aShop({ empty: true, now: at(now) });
  const asked: { problem: Problem; warmStart: Schedule }[] = [];
  const planner: Planner = {
    ...deps.planner,
    plan: (problem, options, ...rest) => {
      if (options.warmStart !== undefined) asked.push({ problem, warmStart: options.warmStart });
      return deps.planner.plan(problem, options, ...rest);
    },
  };
  await loadDemo({ ...deps, planner });
  return asked[0]!;
}

test.each([
  ['at noon, when work pauses', '2026-11-10T12:30+01:00'],
  ['in the morning, when cars have stood elsewhere overnight', '2026-06-15T08:10+02:00'],
])('a plan that went as planned is gone on with whole %s', async (_, now) => {
  const { problem, warmStart } = await firstAsked(now);
  const book = bookOf(problem);
  enterSchedule(book, warmStart);
  expect(problem.jobs.filter((_job, j) => book.plans[j] === null).map(({ name }) => name)).toEqual([]);
});
