import { describe, expect, it } from 'vitest';
import { DurationModel, learnDurations } from '../../../src/promise/spread/duration-model.ts';
import { records } from './synthetic-records.ts';

const priors = new Map([
  ['compound', { logMean: 0.05, logDeviation: 0.12 }],
  ['clay', { logMean: 0.02, logDeviation: 0.15 }],
]);

describe('a model of durations', () => {
  it('learns each kind of work from its own records only', () => {
    const model = new DurationModel(
      learnDurations(records(200, { logMean: 0.4, logDeviation: 0.2 }), priors).durations,
    );
    expect(model.factorOf('compound', null, null).logMean).toBeCloseTo(0.4, 1);
    expect(model.factorOf('clay', null, null).logMean).toBeCloseTo(0.02, 12);
  });

  it('shares what is not known of a kind among all its operations, and less of it the more is recorded', () => {
    const shared = (count: number) =>
      new DurationModel(
        learnDurations(records(count, { logMean: 0.1, logDeviation: 0.12 }), priors).durations,
      ).factorOf('compound', null, null).shared![0]!;
    expect(shared(0)).toEqual({ group: 0, logDeviation: expect.closeTo(0.12 / Math.sqrt(5), 6) });
    expect(shared(300).logDeviation).toBeLessThan(0.01);
  });

  it('lists what it did not learn from', () => {
    const lesson = learnDurations(
      [
        ...records(20, { logMean: 0, logDeviation: 0.1 }),
        { ...records(1, { logMean: 3, logDeviation: 0 })[0]!, id: 'forgotten' },
      ],
      priors,
    );
    expect(lesson.setAside.map(({ record }) => record.id)).toEqual(['forgotten']);
    expect(lesson.durations.kinds.get('compound')!.records).toBe(20);
  });

  it('knows nothing of a kind without a prior', () => {
    expect(() => new DurationModel(learnDurations([], priors).durations).factorOf('polishing', null, null)).toThrow(
      '"polishing"',
    );
  });
});
