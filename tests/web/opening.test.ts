import { expect, test } from 'vitest';
import { hoursOf } from '../../src/web/desk/opening.ts';

type Exceptions = Parameters<typeof hoursOf>[0]['exceptions'];

const on = (date: string, exceptions: Exceptions = []) =>
  hoursOf({ hours: { monday: [{ from: '08:00', to: '17:00' }] }, exceptions }, date).map(
    ({ from, to }) => `${from}–${to}`,
  );
const MONDAY = '2026-03-02';
const part = (from: string, to: string) => ({ from, to });

test('a shop is open as its week says, and shut on days of which the week says nothing', () => {
  expect(on(MONDAY)).toEqual(['08:00–17:00']);
  expect(on('2026-03-01')).toEqual([]);
});

test('a day of its own has its own hours, more of them, fewer, or none', () => {
  expect(on(MONDAY, [{ date: MONDAY, kind: 'instead', parts: [part('10:00', '14:00')] }])).toEqual(['10:00–14:00']);
  expect(on(MONDAY, [{ date: MONDAY, kind: 'overtime', parts: [part('17:00', '20:00')] }])).toEqual([
    '08:00–17:00',
    '17:00–20:00',
  ]);
  expect(on(MONDAY, [{ date: MONDAY, kind: 'off', parts: [part('12:00', '13:00')] }])).toEqual([
    '08:00–12:00',
    '13:00–17:00',
  ]);
  expect(on(MONDAY, [{ date: MONDAY, kind: 'off', parts: [] }])).toEqual([]);
  expect(on(MONDAY, [{ date: '2026-03-03', kind: 'off', parts: [] }])).toEqual(['08:00–17:00']);
});
