import { expect, test } from 'vitest';
import { draftJob } from '../../../src/shop/booking/draft-job.ts';
import { releaseOrder } from '../../../src/shop/planning/release-order.ts';
import type { Book } from '../../../src/trade/formulate/book.ts';
import { JobId } from '../../../src/trade/model/ids.ts';
import type { Job } from '../../../src/trade/model/job.ts';
import { demo } from '../../seed/demo-shop.ts';
import { aRequest } from '../a-request.ts';
import { MONDAY_8 } from '../a-shop.ts';

const empty: Book = { ...demo, jobs: [], events: [], readings: [], previousPlan: null, now: MONDAY_8, horizonDays: 28 };
const job = (id: string, more: Partial<Job>): Job => ({
  ...draftJob(aRequest('walkInWash'), JobId.parse(id), empty),
  dropOffAt: MONDAY_8,
  ...more,
});

test('what was decided is given up in order: holds, ordinary bookings, the dearer ones, windows on the floor', () => {
  const jobs = [
    job('dear', { state: 'booked', priority: 3 }),
    job('ordinary', { state: 'booked' }),
    job('held', { state: 'held' }),
    job('here', { state: 'inShop' }),
  ];
  const steps = releaseOrder({ ...empty, jobs });
  expect(steps.map((each) => [...(each.releases.dropOffsOf ?? [])].sort())).toEqual([
    [],
    ['held'],
    ['held', 'ordinary'],
    ['dear', 'held', 'ordinary'],
    ['dear', 'held', 'ordinary'],
  ]);
  expect(steps.map((each) => [...(each.releases.windowsOf ?? [])])).toEqual([[], [], [], [], ['here']]);
  expect(steps[0]!.text).toBeNull();
});

test('with nothing decided there is nothing to give up', () => {
  expect(releaseOrder(empty)).toEqual([{ releases: {}, text: null }]);
});
