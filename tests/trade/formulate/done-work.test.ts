import { describe, expect, it } from 'vitest';
import { doneWork } from '../../../src/trade/formulate/done-work.ts';
import { readFloor } from '../../../src/trade/formulate/floor-record.ts';
import type { TechnicianId } from '../../../src/trade/model/ids.ts';
import { FloorEvent } from '../../../src/trade/model/job.ts';
import { commonNorms } from '../../../src/trade/work-content/common-norms.ts';
import { workContent } from '../../../src/trade/work-content/work-content.ts';
import { aJob, at } from './a-job.ts';
import { seedShop } from './seed-shop.ts';

const book = seedShop();
const recipe = book.recipes.find(({ id }) => id === 'oneLayerCeramic')!;
const technicians = new Map(book.technicians.map((each) => [each.id, each]));
const washer = book.technicians.find(({ pacePercent }) => pacePercent !== 100)!;

function done(...facts: [string, object][]) {
  const events = facts.map(([time, fact], index) =>
    FloorEvent.parse({
      jobId: 'job1',
      clientId: `client-${index}-0`,
      occurredAt: at(time),
      recordedAt: at(time),
      sequence: index + 1,
      fact,
    }),
  );
  const job = aJob('oneLayerCeramic');
  const record = readFloor(events, at('2026-06-10T20:00Z'));
  return doneWork({ job, recipe, record }, book.shop, technicians, commonNorms);
}

const by = (id: TechnicianId) => [id];

describe('work that the floor has finished', () => {
  it('is told beside its work content, at the pace of whoever did it', () => {
    const { facts, work } = done(
      ['2026-06-01T07:00Z', { kind: 'started', operation: 'clay', by: by(washer.id) }],
      ['2026-06-01T07:50Z', { kind: 'finished', operation: 'clay' }],
    );
    const norm = workContent('clay', facts, commonNorms).minutes;
    expect(work).toEqual([
      {
        operation: 'clay',
        kind: 'clay',
        people: [washer.id],
        startedAt: at('2026-06-01T07:00Z'),
        plannedMinutes: Math.ceil((norm * 100) / washer.pacePercent),
        workedMinutes: 50,
      },
    ]);
  });

  it('counts without its pauses, for whoever was at it longest', () => {
    const [first, second] = [book.technicians[0]!, book.technicians[1]!];
    const { work } = done(
      ['2026-06-01T07:00Z', { kind: 'started', operation: 'finishPolish', by: by(first.id) }],
      ['2026-06-01T07:20Z', { kind: 'interrupted', operation: 'finishPolish', reason: 'telephone' }],
      ['2026-06-01T08:00Z', { kind: 'handedOver', operation: 'finishPolish', to: by(second.id) }],
      ['2026-06-01T08:00Z', { kind: 'resumed', operation: 'finishPolish' }],
      ['2026-06-01T08:50Z', { kind: 'finished', operation: 'finishPolish' }],
    );
    expect(work[0]).toMatchObject({ workedMinutes: 70, people: [second.id, first.id] });
  });

  it('that ran over a night counts while whoever did it was in', () => {
    // From an hour before the end of the shift until an hour after the next one began.
    const polisher = book.technicians.find(({ skills }) => skills.some(({ skill }) => skill === 'polishing'))!;
    const parts = polisher.shifts.monday!;
    const end = parts.at(-1)!.to;
    const begin = polisher.shifts.tuesday![0]!.from;
    const offset = '+02:00';
    const before = at(`2026-06-01T${end}${offset}`) - 3_600_000;
    const after = at(`2026-06-02T${begin}${offset}`) + 3_600_000;
    const { work } = done(
      [new Date(before).toISOString(), { kind: 'started', operation: 'compound', by: by(polisher.id) }],
      [new Date(after).toISOString(), { kind: 'finished', operation: 'compound' }],
    );
    expect(work.find(({ kind }) => kind === 'compound')).toMatchObject({ workedMinutes: 120 });
  });

  it('is not told while it is under way, nor when nobody did it', () => {
    const { work } = done(
      ['2026-06-01T07:00Z', { kind: 'started', operation: 'clay', by: by(washer.id) }],
      ['2026-06-01T08:00Z', { kind: 'finished', operation: 'intake' }],
    );
    expect(work).toEqual([]);
  });
});
