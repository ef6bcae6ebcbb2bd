import { describe, expect, test } from 'vitest';
import { isReady, stagesOf } from '../../../src/shop/customer/stages.ts';
import { TechnicianId } from '../../../src/trade/model/ids.ts';
import type { WorkKind } from '../../../src/trade/model/recipe.ts';
import type { Instant } from '../../../src/trade/model/time.ts';

const hour = (h: number) => (h * 3_600_000) as Instant;
const work = (kind: WorkKind, from: number, to: number, state: 'planned' | 'underWay' | 'finished', people = 1) => ({
  kind,
  start: hour(from),
  end: hour(to),
  state,
  people: people === 0 ? [] : [TechnicianId.parse('ash')],
});

describe('how far a car is, in a customer’s words', () => {
  const day = [
    work('intake', 8, 9, 'finished'),
    work('foamWash', 9, 10, 'finished'),
    work('contactWash', 10, 11, 'underWay'),
    work('move', 11, 12, 'planned'),
    work('coatLayer', 12, 13, 'planned'),
    work('handover', 14, 15, 'planned'),
  ];

  test('each stage is done, under way or to come, in the order of the plan; moves are nobody’s business', () => {
    expect(stagesOf(day, hour(10))).toEqual([
      { stage: 'arrival', progress: 'done' },
      { stage: 'washing', progress: 'now' },
      { stage: 'coating', progress: 'later' },
      { stage: 'pickup', progress: 'later' },
    ]);
  });

  test('a stage between two of its operations is under way, though nobody works', () => {
    const between = [work('foamWash', 9, 10, 'finished'), work('contactWash', 12, 13, 'planned')];
    expect(stagesOf(between, hour(11))).toEqual([{ stage: 'washing', progress: 'now' }]);
  });

  test('a cure that nobody attends is over when its time is, hands-on work when somebody says so', () => {
    const curing = [work('cure', 9, 21, 'planned', 0)];
    expect(stagesOf(curing, hour(20))).toEqual([{ stage: 'curing', progress: 'later' }]);
    expect(stagesOf(curing, hour(21))).toEqual([{ stage: 'curing', progress: 'done' }]);
    expect(stagesOf([work('foamWash', 9, 10, 'underWay')], hour(20))).toEqual([{ stage: 'washing', progress: 'now' }]);
  });

  test('ready is when nothing but the handover is left', () => {
    expect(isReady(day, hour(23))).toBe(false);
    expect(isReady([work('intake', 8, 9, 'finished'), work('handover', 9, 10, 'planned')], hour(9))).toBe(true);
    expect(isReady([], hour(9))).toBe(false);
  });
});
