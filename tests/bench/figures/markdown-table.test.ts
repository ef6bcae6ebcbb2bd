import { expect, it } from 'vitest';
import { figure, markdownTable } from './markdown-table.ts';

it('a table has a rule under its head and figures to the right', () => {
  expect(markdownTable(['jobs', 'ms'], [['20', '7']])).toBe('| jobs | ms |\n| --- | ---: |\n| 20 | 7 |');
});

it('a figure keeps about three digits', () => {
  expect([0.128, 12.34, 456.7, 1234, Number.NaN].map(figure)).toEqual(['0.13', '12.3', '457', '1234', '-']);
});
