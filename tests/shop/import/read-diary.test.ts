import { describe, expect, test } from 'vitest';
import { readDiary } from '../../../src/shop/import/read-diary.ts';
import type { Recipe } from '../../../src/trade/model/recipe.ts';
import { Instant } from '../../../src/trade/model/time.ts';

const recipes = [{ id: 'two-layer', name: 'Two layers' }] as unknown as Recipe[];
const now = Instant.parse(Date.parse('2026-03-01T12:00Z'));
const header = 'customer,class,length mm,height mm,recipe,drop-off,pickup';
const read = (...lines: string[]) => readDiary([header, ...lines].join('\n'), recipes, 'Europe/Berlin', now);

describe('a diary in CSV', () => {
  test('is read in the local time of the shop', () => {
    // Berlin keeps UTC+1 in March before the change: 08:30 is 07:30 UTC.
    const { lines, faults } = read('"Invented, Person",suv,4700,1700,Two layers,2026-03-02 08:30,2026-03-04 16:00');
    expect(faults).toEqual([]);
    expect(lines[0]?.dropOffAt).toBe(Date.parse('2026-03-02T07:30Z'));
    expect(lines[0]?.promisedPickupAt).toBe(Date.parse('2026-03-04T15:00Z'));
    expect(lines[0]?.request.customer.name).toBe('Invented, Person');
  });

  test('may use semicolons, as spreadsheets of half the world do', () => {
    const csv = `${header.replaceAll(',', ';')}\r\nPerson;suv;4700;1700;two-layer;2026-03-02 08:30;\r\n`;
    const { lines, faults } = readDiary(csv, recipes, 'Europe/Berlin', now);
    expect(faults).toEqual([]);
    expect(lines[0]?.promisedPickupAt).toBeNull();
  });
});

describe('a bad line', () => {
  test('is named with every column at fault', () => {
    const { faults } = read(
      'Person,suv,4700,1700,two-layer,2026-03-02 08:30,',
      ',truck,47,1700,three-layer,tomorrow,2026-03-04 16:00',
    );
    expect(faults.map((each) => [each.line, each.column]).sort()).toEqual(
      [
        [3, 'class'],
        [3, 'customer'],
        [3, 'drop-off'],
        [3, 'length mm'],
        [3, 'recipe'],
      ].sort(),
    );
  });

  test('is one whose pickup comes before its drop-off', () => {
    expect(read('Person,suv,4700,1700,two-layer,2026-03-02 08:30,2026-03-01 16:00').faults).toEqual([
      { line: 2, column: 'pickup', text: 'It comes before the drop-off.' },
    ]);
  });

  test('is one with a cell too few', () => {
    expect(read('Person,suv,4700').faults).toEqual([
      { line: 2, column: '', text: '3 cells where the header names 7.' },
    ]);
  });

  test('is one that lies in the past', () => {
    expect(read('Person,suv,4700,1700,two-layer,2026-02-02 08:30,').faults[0]).toMatchObject({ column: 'drop-off' });
  });

  test('is an unclosed quote, told with its line', () => {
    expect(read('"Person,suv,4700').faults[0]?.text).toMatch(/not CSV/);
  });
});

describe('a bad header', () => {
  test('names the columns that are missing and those nobody knows', () => {
    const { faults } = readDiary('customer,class,mood\n', recipes, 'Europe/Berlin', now);
    expect(faults.map((each) => each.column)).toEqual(['mood', 'length mm', 'height mm', 'recipe', 'drop-off']);
  });

  test('is an empty file', () => {
    expect(readDiary('', recipes, 'Europe/Berlin', now).faults).toEqual([
      { line: 1, column: '', text: 'The file is empty.' },
    ]);
  });
});
