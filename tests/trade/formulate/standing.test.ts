import { expect, it } from 'vitest';
import { formulate } from '../../../src/trade/formulate/formulate.ts';
import { JobId } from '../../../src/trade/model/ids.ts';
import { aJob, at, floorOf } from './a-job.ts';
import { smallShop } from './small-shop.ts';

const cars = (...placeIds: string[]) =>
  formulate(
    smallShop({
      now: at('2026-06-01T08:00Z'),
      jobs: placeIds.map((_, k) => aJob('small', { id: `car${k}`, state: 'inShop' })),
      events: placeIds.flatMap((placeId, k) =>
        floorOf(`car${k}`, [`2026-06-01T06:0${k}Z`, { kind: 'arrived', placeId }]),
      ),
    }),
  );

it('of two cars recorded in one place the one that came later is believed, and the desk is asked for the other', () => {
  const { problem, notices } = cars('wetBay', 'wetBay');
  const standing = problem.jobs.map(({ stays }) => problem.stays[stays[0]!]!.fixed?.place);
  expect(standing).toEqual([undefined, 0]);
  expect(notices.map(({ kind, jobId }) => [kind, jobId])).toEqual([['unknownPlace', 'car0']]);
});

it('a place that the shop does not have is no place', () => {
  const { problem, notices } = cars('moon');
  expect(problem.stays.every(({ fixed }) => fixed === undefined)).toBe(true);
  expect(notices[0]!.text).toContain('"moon"');
});

it('a car set aside is not planned, and where it stands stays taken until the end unless another is told to stand there', () => {
  const book = (...placeIds: string[]) =>
    smallShop({
      now: at('2026-06-01T08:00Z'),
      jobs: placeIds.map((_, k) => aJob('small', { id: `car${k}`, state: 'inShop' })),
      events: placeIds.flatMap((placeId, k) =>
        floorOf(`car${k}`, [`2026-06-01T06:0${k}Z`, { kind: 'arrived', placeId }]),
      ),
    });
  const aside = new Set([JobId.parse('car1')]);
  const { problem, jobs, leftOut } = formulate(book('wetBay', 'coatBay'), { aside });
  expect(jobs.map(({ job }) => job.id)).toEqual(['car0']);
  expect(leftOut).toEqual([]);
  const { places } = book();
  const coatBay = places.findIndex(({ id }) => id === 'coatBay');
  expect(problem.takenPlaces).toEqual([{ place: coatBay, from: problem.now, to: problem.horizon }]);
  const both = formulate(book('coatBay', 'coatBay'), { aside });
  expect(both.problem.takenPlaces).toEqual([]);
  expect(both.problem.stays[both.problem.jobs[0]!.stays[0]!]!.fixed?.place).toBe(coatBay);
});
