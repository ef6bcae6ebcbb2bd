import { expect, test } from 'vitest';
import { ContentNumbers } from '../../../src/engine/calendar/content-numbers.ts';
import { IntervalSet } from '../../../src/engine/calendar/interval-set.ts';
import { WorkCalendar } from '../../../src/engine/calendar/work-calendar.ts';

const morning = () => new IntervalSet([{ from: 480, to: 720 }]);

test('things of equal content have one number, and others have others', () => {
  const numbers = new ContentNumbers();
  const first = numbers.ofIntervals(morning());
  expect(numbers.ofIntervals(new IntervalSet([{ from: 480, to: 721 }]))).not.toBe(first);
  expect(numbers.ofIntervals(morning())).toBe(first);
  const steady = numbers.ofCalendar(new WorkCalendar({ at: [0], rate: [1] }));
  expect(numbers.ofCalendar(new WorkCalendar({ at: [0], rate: [2] }))).not.toBe(steady);
  expect(numbers.ofCalendar(new WorkCalendar({ at: [0], rate: [1] }))).toBe(steady);
});

test('a thing keeps its number, and one that was never numbered has none', () => {
  const numbers = new ContentNumbers();
  const set = morning();
  expect(numbers.known(set)).toBeUndefined();
  const number = numbers.add(set, 'the hours of the wet bay');
  expect(numbers.known(set)).toBe(number);
  expect(numbers.ofIntervals(set)).toBe(number);
});
