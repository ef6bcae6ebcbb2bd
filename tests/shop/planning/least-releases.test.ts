import { describe, expect, test } from 'vitest';
import { leastLate, leastOfNamed, leastReleases } from '../../../src/shop/planning/least-releases.ts';
import type { Releases } from '../../../src/trade/formulate/book.ts';
import { JobId } from '../../../src/trade/model/ids.ts';

const jobs = ['a', 'b', 'c', 'd', 'e', 'f'].map((id) => JobId.parse(id));
/** A book with a plan as soon as all of these are released. */
const needs = (...ids: string[]) => {
  const asked: Releases[] = [];
  return {
    asked,
    hasPlan: async (releases: Releases) => {
      asked.push(releases);
      return ids.every((id) => releases.dropOffsOf?.has(JobId.parse(id)));
    },
  };
};

describe('decisions are given up', () => {
  test('in the order, and no more of them than are needed', async () => {
    const { hasPlan } = needs('b', 'd');
    expect(await leastReleases(jobs, new Set(), hasPlan)).toEqual({ dropOffsOf: new Set(['b', 'd']) });
  });

  test('the first in the order alone when that is enough', async () => {
    expect(await leastReleases(jobs, new Set(), needs('a').hasPlan)).toEqual({ dropOffsOf: new Set(['a']) });
  });

  test('with few plans tried: the order is halved, not gone through', async () => {
    const many = Array.from({ length: 64 }, (_, k) => JobId.parse(`job-${k}`));
    const { asked, hasPlan } = needs('job-0');
    await leastReleases(many, new Set(), hasPlan);
    expect(asked.length).toBeLessThanOrEqual(1 + 6);
  });

  test('windows on the floor last, with all the rest', async () => {
    const hasPlan = async (releases: Releases) => (releases.windowsOf?.size ?? 0) > 0;
    const here = JobId.parse('here');
    expect(await leastReleases(jobs, new Set([here]), hasPlan)).toEqual({
      dropOffsOf: new Set(jobs),
      windowsOf: new Set([here]),
      closuresOf: new Set([here]),
    });
  });

  test('in vain when nothing helps', async () => {
    expect(await leastReleases(jobs, new Set(), async () => false)).toBeNull();
  });
});

describe('the drop-off hours of those who found no place', () => {
  test('are given up first, and of those no more than are needed', async () => {
    const named = ['e', 'b', 'd'].map((id) => JobId.parse(id));
    expect(await leastOfNamed(named, needs('b').hasPlan)).toEqual({ dropOffsOf: new Set(['b']) });
    expect(await leastOfNamed(named, needs('b', 'e').hasPlan)).toEqual({ dropOffsOf: new Set(['e', 'b']) });
  });

  test('are given up by as little as there is a plan with: a wait at the door, a day, as long as it takes', async () => {
    const tried: (number | undefined)[] = [];
    const needing = (minutes: number) => async (releases: Releases) => {
      tried.push(releases.dropOffsWithinMinutes);
      return (releases.dropOffsWithinMinutes ?? Number.POSITIVE_INFINITY) >= minutes;
    };
    const a = new Set([JobId.parse('a')]);
    expect(await leastLate([...a], needing(20))).toEqual({ dropOffsOf: a, dropOffsWithinMinutes: 30 });
    expect(tried).toEqual([30]);
    expect(await leastLate([...a], needing(500))).toEqual({ dropOffsOf: a, dropOffsWithinMinutes: 600 });
    expect(await leastLate([...a], needing(5000))).toEqual({ dropOffsOf: a });
    expect(await leastLate([...a], async () => false)).toBeNull();
  });

  test('are not enough where nobody is named, or somebody else has to give way', async () => {
    expect(await leastOfNamed([], needs().hasPlan)).toBeNull();
    expect(await leastOfNamed([JobId.parse('a')], needs('b').hasPlan)).toBeNull();
  });
});
