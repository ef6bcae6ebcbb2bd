import { describe, expect, test } from 'vitest';
import { z } from 'zod';
import { inZone } from '../../../src/api/wire/in-zone.ts';
import { onTheWire, strictly } from '../../../src/api/wire/on-the-wire.ts';
import { FloorFact } from '../../../src/trade/model/job.ts';
import { DayPart, Instant } from '../../../src/trade/model/time.ts';

const Visit = z.object({
  from: Instant,
  to: Instant.nullable(),
  stops: z.array(z.object({ at: Instant, note: z.string().optional() })),
});
const inside = { from: 1_774_745_999_000, to: null, stops: [{ at: 1_774_746_000_000 }] } as z.output<typeof Visit>;

describe('times on the wire', () => {
  // Central European summer time began on 29 March 2026 at 01:00 UTC (EU directive 2000/84/EC: last Sunday of March).
  test('instants are written with the offset the zone has at that moment, on both sides of a clock change', () => {
    expect(z.encode(inZone(onTheWire(Visit), 'Europe/Berlin'), inside)).toEqual({
      from: '2026-03-29T01:59:59+01:00',
      to: null,
      stops: [{ at: '2026-03-29T03:00:00+02:00' }],
    });
  });

  test('what is written is read back as the same instant, in any zone', () => {
    for (const zone of ['utc', 'Europe/Berlin', 'Asia/Kathmandu', 'America/St_Johns', 'Pacific/Chatham']) {
      const text = z.encode(inZone(onTheWire(Visit), zone), inside);
      expect(onTheWire(Visit).parse(text)).toEqual(inside);
    }
  });

  test('the examples of RFC 3339 section 5.8 are read as it explains them', () => {
    const read = (text: string) => z.decode(onTheWire(Instant) as z.ZodType<Instant, string>, text);
    expect(read('1996-12-19T16:39:57-08:00')).toBe(read('1996-12-20T00:39:57Z'));
    expect(read('1985-04-12T23:20:50.52Z')).toBe(482_196_050_520);
  });

  test('a time without an offset is no instant', () => {
    const result = onTheWire(Visit).safeParse({ from: '2026-03-29T02:00:00', to: null, stops: [] });
    expect(result.error?.issues.map((issue) => issue.path)).toEqual([['from']]);
  });

  test('a number is no instant on the wire', () => {
    expect(onTheWire(Visit).safeParse({ from: 5, to: null, stops: [] }).success).toBe(false);
  });

  test('milliseconds are written when there are any', () => {
    expect(z.encode(onTheWire(z.object({ at: Instant })), { at: 1234 as Instant })).toEqual({
      at: '1970-01-01T00:00:01.234Z',
    });
  });
});

describe('unknown fields', () => {
  test('are refused at any depth, also in one of several forms', () => {
    const Body = strictly(onTheWire(z.object({ fact: FloorFact, parts: z.array(DayPart) })));
    const good = { fact: { kind: 'arrived', placeId: 'bay-1' }, parts: [{ from: '08:00', to: '12:00' }] };
    expect(Body.safeParse(good).success).toBe(true);
    const bad = Body.safeParse({ fact: { ...good.fact, bay: 1 }, parts: [{ ...good.parts[0], until: '13:00' }] });
    expect(bad.error?.issues.map((issue) => [issue.code, issue.path])).toEqual([
      ['unrecognized_keys', ['fact']],
      ['unrecognized_keys', ['parts', 0]],
    ]);
  });

  test('refinements of the schema still hold', () => {
    const result = strictly(onTheWire(z.object({ part: DayPart }))).safeParse({ part: { from: '12:00', to: '08:00' } });
    expect(result.error?.issues[0]).toMatchObject({ path: ['part', 'to'], message: 'must end after it starts' });
  });

  test('a schema in which nothing changes stays the same schema', () => {
    const Plain = z.object({ name: z.string() });
    expect(onTheWire(Plain)).toBe(Plain);
  });
});
