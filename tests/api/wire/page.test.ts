import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { pageBy, pageByPosition } from '../../../src/api/wire/page.ts';

const keyOf = (word: string) => word;

function collect(page: typeof pageBy<string>, words: readonly string[], limit: number): string[] {
  const seen: string[] = [];
  let cursor: string | undefined;
  do {
    const part = page(words, keyOf, { limit, ...(cursor === undefined ? {} : { cursor }) });
    expect(part.items.length).toBeLessThanOrEqual(limit);
    seen.push(...part.items);
    cursor = part.nextCursor ?? undefined;
  } while (cursor !== undefined);
  return seen;
}

const words = fc.uniqueArray(fc.string({ minLength: 1 }), { maxLength: 40 }).map((list) => list.sort());

describe('parts of a list', () => {
  test('put together are the list, each item once', () => {
    fc.assert(
      fc.property(words, fc.integer({ min: 1, max: 7 }), (list, limit) => {
        expect(collect(pageBy, list, limit)).toEqual(list);
        expect(collect(pageByPosition, list, limit)).toEqual(list);
      }),
      { seed: 11 },
    );
  });

  test('what is removed or added between two parts neither hides nor repeats another', () => {
    const first = pageBy(['a', 'b', 'd'], keyOf, { limit: 2 });
    const second = pageBy(['a', 'c', 'd'], keyOf, { limit: 2, cursor: first.nextCursor as string });
    expect(second).toEqual({ items: ['c', 'd'], nextCursor: null });
  });

  test('a cursor that no list gave is refused, with the field', () => {
    expect(() => pageBy(['a'], keyOf, { limit: 1, cursor: 'x' })).toThrow(/cursor/);
  });
});
