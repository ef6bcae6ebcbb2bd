import { describe, expect, it } from 'vitest';
import {
  CalendarSpan,
  NO_END,
  NO_START,
  SteadySpan,
  type WorkSpan,
} from '../../../src/engine/constraints/work-span.ts';

/** Begins at 2, 3 and 7; ends at 4, 9 and 9. */
const calendar = new CalendarSpan(Int32Array.of(2, 3, 7), Int32Array.of(4, 9, 9));

describe('work span', () => {
  it('finds the beginnings around a minute', () => {
    expect([calendar.next(0), calendar.next(3), calendar.next(4), calendar.next(8)]).toEqual([2, 3, 7, NO_END]);
    expect([calendar.previous(1), calendar.previous(2), calendar.previous(6)]).toEqual([NO_START, 2, 3]);
  });

  it('finds the beginnings by their ends', () => {
    expect([calendar.lastEndingBy(3), calendar.lastEndingBy(4), calendar.lastEndingBy(9)]).toEqual([NO_START, 2, 7]);
    expect([calendar.firstEndingAfter(3), calendar.firstEndingAfter(4), calendar.firstEndingAfter(9)]).toEqual([
      2,
      3,
      NO_END,
    ]);
  });

  it('a steady span answers as a calendar that is always open', () => {
    const minutes = Array.from({ length: 40 }, (_, t) => t);
    const open = new CalendarSpan(
      Int32Array.from(minutes),
      Int32Array.from(minutes, (t) => t + 4),
    );
    const steady = new SteadySpan(4);
    for (let t = 10; t < 30; t++) {
      for (const question of ['next', 'previous', 'end', 'lastEndingBy', 'firstEndingAfter'] as const) {
        expect(steady[question](t)).toBe((open as WorkSpan)[question](t));
      }
    }
  });
});
