import { expect, it } from 'vitest';
import { formulate } from '../../../src/trade/formulate/formulate.ts';
import { dropOffsInReleaseOrder } from '../../../src/trade/formulate/release-order.ts';
import { aJob, at } from './a-job.ts';
import { smallShop } from './small-shop.ts';

it('drop-off hours that clash are given up by least priority, then by the later hour', () => {
  const job = (id: string, priority: number, dropOff: string | null) =>
    aJob('small', { id, priority, dropOffAt: dropOff === null ? null : at(dropOff) });
  const jobs = [
    job('dear', 5, '2026-06-03T07:00Z'),
    job('soon', 1, '2026-06-02T07:00Z'),
    job('free', 1, null),
    job('late', 1, '2026-06-04T07:00Z'),
  ];
  expect(dropOffsInReleaseOrder(formulate(smallShop({ jobs })))).toEqual(['late', 'soon', 'dear']);
  const released = new Set([jobs[3]!.id]);
  expect(dropOffsInReleaseOrder(formulate(smallShop({ jobs }), { dropOffsOf: released }))).toEqual(['soon', 'dear']);
  // Whoever is awaited though their hour has passed need not be told another.
  const now = at('2026-06-02T07:10Z');
  expect(dropOffsInReleaseOrder(formulate(smallShop({ jobs, now })))).toEqual(['soon', 'late', 'dear']);
});
