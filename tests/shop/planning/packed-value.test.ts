import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { pack, packInPieces, unpack } from '../../../src/shop/planning/packed-value.ts';

describe('a packed value', () => {
  test('lies in memory that every thread reads, once for one value', () => {
    const value = { hours: [8, 17] };
    expect(pack(value).bytes.buffer).toBeInstanceOf(SharedArrayBuffer);
    expect(pack(value)).toBe(pack(value));
    expect(unpack(pack(value))).toEqual(value);
  });
});

describe('a list packed in pieces', () => {
  const entry = fc.record({ day: fc.nat(4), text: fc.string() });
  const byDay = ({ day }: { readonly day: number }) => day;

  test('is the same list where it is unpacked', () => {
    fc.assert(
      fc.property(fc.array(entry), (list) => {
        expect(packInPieces(list, byDay).flatMap((piece) => unpack(piece))).toEqual(list);
      }),
      { seed: 5, numRuns: 200 },
    );
  });

  test('of which one entry is another is packed anew in one piece, and only there', () => {
    const list = [1, 1, 1, 2, 3, 3].map((day, k) => ({ day, text: `entry ${k}` }));
    const first = packInPieces(list, byDay);
    expect(first).toHaveLength(3);
    expect(packInPieces([...list], byDay).every((piece, k) => piece === first[k])).toBe(true);
    const changed = list.map((each, k) => (k === 2 ? { ...each, text: 'another' } : each));
    const again = packInPieces(changed, byDay);
    expect(again.map((piece, k) => piece === first[k])).toEqual([false, true, true]);
  });
});
