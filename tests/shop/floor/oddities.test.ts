import { describe, expect, test } from 'vitest';
import { oddities } from '../../../src/shop/floor/oddities.ts';
import { JobId } from '../../../src/trade/model/ids.ts';
import { FloorEvent, FloorFact } from '../../../src/trade/model/job.ts';

const nine = Date.parse('2026-03-02T09:00Z');
const event = (sequence: number, minute: number, fact: object) =>
  FloorEvent.parse({
    jobId: JobId.parse('car'),
    clientId: `device-${sequence}`,
    occurredAt: nine + minute * 60_000,
    recordedAt: nine + 600 * 60_000,
    sequence,
    fact: FloorFact.parse(fact),
  });

const arrived = event(1, 0, { kind: 'arrived', placeId: 'bay' });
const started = event(2, 10, { kind: 'started', operation: 'wash', by: ['ada'] });
const finished = event(3, 40, { kind: 'finished', operation: 'wash' });

describe('facts that follow from one another', () => {
  test('are not odd', () => {
    const told = [arrived, started, finished];
    expect(told.flatMap((each) => oddities(told, each))).toEqual([]);
  });

  test('are not odd when they are told in another order than they occurred', () => {
    const told = [
      { ...finished, sequence: 1 },
      { ...started, sequence: 2 },
      { ...arrived, sequence: 3 },
    ];
    expect(told.flatMap((each) => oddities(told, each))).toEqual([]);
  });
});

describe('a fact that does not follow', () => {
  test('is named when work ends that nobody started', () => {
    expect(oddities([arrived, finished], finished)).toEqual([
      'wash: "finished" was recorded, and nobody told that it was started.',
    ]);
  });

  test('is named when work starts a second time', () => {
    const again = event(4, 20, { kind: 'started', operation: 'wash', by: [] });
    expect(oddities([arrived, started, again], again)).toEqual(['wash was started twice.']);
  });

  test('is named when finished work goes on', () => {
    const resumed = event(4, 50, { kind: 'resumed', operation: 'wash' });
    expect(oddities([arrived, started, finished, resumed], resumed)).toHaveLength(1);
  });

  test('is named when a car is picked up that never came', () => {
    const gone = event(1, 50, { kind: 'pickedUp' });
    expect(oddities([gone], gone)).toHaveLength(1);
  });
});
