import { describe, expect, it } from 'vitest';
import { setAside } from '../../../src/promise/spread/set-aside.ts';
import { commonWeights } from '../../../src/promise/spread/trade-prior.ts';
import { records } from './synthetic-records.ts';

const prior = { logMean: 0.03, logDeviation: 0.12 };
const odd = (id: string, plannedMinutes: number, workedMinutes: number) => ({
  id,
  kind: 'compound',
  person: null,
  condition: null,
  plannedMinutes,
  workedMinutes,
});

describe('records that are not believed', () => {
  it('are work on which finish was forgotten, listed with the reason', () => {
    const seen = [...records(40, { logMean: 0.1, logDeviation: 0.15 }), odd('forgotten', 60, 900)];
    const { kept, setAside: aside } = setAside(seen, prior, commonWeights);
    expect(aside.map(({ record, reason }) => [record.id, reason])).toEqual([['forgotten', 'tooLong']]);
    expect(kept).toHaveLength(40);
  });

  it('are starts and finishes pressed together', () => {
    const { setAside: aside } = setAside(
      [...records(40, { logMean: 0, logDeviation: 0.15 }), odd('both', 60, 1)],
      prior,
      commonWeights,
    );
    expect(aside.map(({ record, reason }) => [record.id, reason])).toEqual([['both', 'tooShort']]);
  });

  it('are recognised by the trade’s prior when there is nothing to compare them with', () => {
    const { setAside: aside } = setAside([odd('night', 45, 720), odd('fair', 45, 62)], prior, commonWeights);
    expect(aside.map(({ record }) => record.id)).toEqual(['night']);
  });

  it('are those without minutes', () => {
    const { setAside: aside } = setAside([odd('none', 45, 0), odd('unplanned', 0, 20)], prior, commonWeights);
    expect(aside.map(({ reason }) => reason)).toEqual(['unusable', 'unusable']);
  });

  it('are not a shop that is slower than the trade throughout', () => {
    const { setAside: aside } = setAside(records(60, { logMean: 0.7, logDeviation: 0.15 }), prior, commonWeights);
    expect(aside).toEqual([]);
  });
});
