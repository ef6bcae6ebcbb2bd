import { expect, test } from 'vitest';
import { chainTo } from '../../src/promise/job-chain.ts';
import { type PlannedOperation, PlannedOperation as PlannedOperationSchema } from '../../src/trade/model/plan.ts';
import { Instant } from '../../src/trade/model/time.ts';

const nine = Date.parse('2026-03-02T09:00Z');
const minute = (m: number) => Instant.parse(nine + m * 60_000);
const operation = (key: string, from: number, to: number, more: Partial<PlannedOperation> = {}): PlannedOperation => ({
  ...PlannedOperationSchema.parse({
    jobId: 'car',
    operation: key,
    kind: 'contactWash',
    label: key,
    start: minute(from),
    end: minute(to),
    pieces: [{ from: minute(from), to: minute(to) }],
    placeId: null,
    people: [],
    sharePercent: 100,
    state: 'planned',
    remedy: false,
    windowClosesAt: null,
  }),
  ...more,
});

test('work done beside the longest run to the ready time is not on the chain', () => {
  const chain = chainTo(
    minute(120),
    [
      operation('wash', 0, 30),
      operation('polish', 30, 120),
      operation('wheels', 30, 60),
      operation('handover', 120, 150),
    ],
    minute(0),
  );
  expect(chain.map((each) => each.likely)).toEqual([30, 90]);
});

test('finished work strays no more, and work under way only in what is left of it', () => {
  const chain = chainTo(
    minute(120),
    [operation('wash', 0, 30, { state: 'finished' }), operation('polish', 30, 120, { state: 'underWay' })],
    minute(60),
  );
  expect(chain.map((each) => each.likely)).toEqual([60]);
});
