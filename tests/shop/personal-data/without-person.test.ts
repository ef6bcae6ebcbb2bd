import { describe, expect, test } from 'vitest';
import { ERASED, erasedJob, withoutPerson } from '../../../src/shop/personal-data/without-person.ts';
import { Job } from '../../../src/trade/model/job.ts';
import { car } from '../../api/a-planned-car.ts';

const words = { own: ['Quirina Zobel', 'Al', 'QZ 77'], anywhere: ['Quirina Zobel', 'QZ 77'] };
const clean = withoutPerson(new Set(['job-1']), words);
const row = { table: 'outboxEvent', about: null } as const;
const read = (value: unknown, of: Parameters<typeof clean>[1] = row) => JSON.parse(clean(JSON.stringify(value), of));

describe('a person is taken out of texts', () => {
  test('wherever the name or registration stands by itself, whatever its case and spacing', () => {
    expect(read({ text: 'quirina  ZOBEL brings qz77.' })).toEqual({ text: '[…] brings […].' });
    expect(read({ text: 'QZ 770, Quirina Zobelmann' })).toEqual({ text: 'QZ 770, Quirina Zobelmann' });
  });

  test('short words only within what is theirs', () => {
    const value = [
      { jobId: 'job-1', text: 'Al waits' },
      { jobId: 'job-2', text: 'Al waits' },
    ];
    expect(read(value)).toEqual([
      { jobId: 'job-1', text: '[…] waits' },
      { jobId: 'job-2', text: 'Al waits' },
    ]);
  });

  test('customer, car and notes of their bookings go whole, in any document that holds one', () => {
    const stored = { plan: 3, job: { ...car, notes: 'rings twice' }, fact: { kind: 'noted', text: 'about the paint' } };
    const { job, fact } = read(stored);
    expect(job).toMatchObject({ customer: { name: ERASED }, vehicle: { registration: '' }, notes: ERASED });
    expect(fact.text).toBe('about the paint');
    const told = { table: 'floorEvent', about: 'job-1' } as const;
    expect(read({ kind: 'noted', text: 'about the paint' }, told)).toEqual({ kind: 'noted', text: ERASED });
    expect(read({ kind: 'noted', text: 'about the paint' }, { ...told, about: 'job-2' }).text).toBe('about the paint');
  });

  test('and text that is not JSON is read as it is', () => {
    expect(clean('for Quirina Zobel', row)).toBe('for […]');
  });

  test('no text grows, so that none passes its limit', () => {
    const text = 'QZ 77 '.repeat(300);
    expect(read({ text }).text.length).toBeLessThanOrEqual(text.length);
  });
});

describe('an erased booking', () => {
  const job: Job = {
    ...car,
    notes: 'rings twice',
    inspection: {
      at: car.createdAt,
      panels: [{ panel: 'roof', defects: 2, note: 'her own scratch' }],
      film: [],
      paintHardness: null,
    },
  };

  test('is a whole booking still, and keeps what was done, promised and paid', () => {
    const erased = Job.parse(erasedJob(job, car.createdAt));
    const { customer, vehicle, notes, inspection, erasedAt, ...kept } = erased;
    const { customer: _c, vehicle: _v, notes: _n, inspection: _i, ...before } = job;
    expect(kept).toEqual(before);
    expect(customer).toEqual({ name: ERASED, phone: '', email: '' });
    expect(vehicle).toEqual({ ...job.vehicle, registration: '', description: '' });
    expect(inspection?.panels).toEqual([{ panel: 'roof', defects: 2 }]);
    expect([notes, erasedAt]).toEqual([ERASED, car.createdAt]);
  });
});
