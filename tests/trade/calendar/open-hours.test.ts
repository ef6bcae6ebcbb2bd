import { describe, expect, it } from 'vitest';
import { dayWindows, openHours, placeHours } from '../../../src/trade/calendar/open-hours.ts';

const zone = 'Europe/Berlin';
const utc = (iso: string) => Date.parse(iso);
const day = (from: string, to: string) => ({ zone, from, to });

// 2026-06-01 is a Monday.
const week = {
  monday: [
    { from: '08:00', to: '12:00' },
    { from: '12:30', to: '17:00' },
  ],
  tuesday: [{ from: '08:00', to: '17:00' }],
};

describe('weekly hours', () => {
  it('leave lunch as the gap between two parts, and days without parts closed', () => {
    expect(openHours(day('2026-06-01', '2026-06-04'), week, []).open).toEqual([
      { from: utc('2026-06-01T06:00Z'), to: utc('2026-06-01T10:00Z') },
      { from: utc('2026-06-01T10:30Z'), to: utc('2026-06-01T15:00Z') },
      { from: utc('2026-06-02T06:00Z'), to: utc('2026-06-02T15:00Z') },
    ]);
  });

  it('are replaced, shortened and closed by the days that differ', () => {
    const hours = openHours(day('2026-06-01', '2026-06-03'), week, [
      { date: '2026-06-01', kind: 'instead', parts: [{ from: '10:00', to: '14:00' }] },
      { date: '2026-06-02', kind: 'off', parts: [{ from: '09:00', to: '10:00' }] },
    ]);
    expect(hours.open).toEqual([
      { from: utc('2026-06-01T08:00Z'), to: utc('2026-06-01T12:00Z') },
      { from: utc('2026-06-02T06:00Z'), to: utc('2026-06-02T07:00Z') },
      { from: utc('2026-06-02T08:00Z'), to: utc('2026-06-02T15:00Z') },
    ]);
    expect(openHours(day('2026-06-01', '2026-06-02'), week, [{ date: '2026-06-01', kind: 'off', parts: [] }])).toEqual({
      open: [],
      overtime: [],
    });
  });

  it('count as overtime only what an authorised part adds to the ordinary hours', () => {
    const hours = openHours(day('2026-06-02', '2026-06-03'), week, [
      { date: '2026-06-02', kind: 'overtime', parts: [{ from: '16:00', to: '19:00' }] },
    ]);
    expect(hours.open).toEqual([{ from: utc('2026-06-02T06:00Z'), to: utc('2026-06-02T17:00Z') }]);
    expect(hours.overtime).toEqual([{ from: utc('2026-06-02T15:00Z'), to: utc('2026-06-02T17:00Z') }]);
  });
});

describe('hours on the day the clocks change (Directive 2000/84/EC: 29 March and 25 October 2026)', () => {
  const night = { sunday: [{ from: '01:00', to: '04:00' }] };
  const minutes = (date: string, next: string, hours: object) =>
    openHours(day(date, next), hours, []).open.map(({ from, to }) => (to - from) / 60_000);

  it('lose the hour that does not exist and gain the one that comes twice', () => {
    expect(minutes('2026-03-29', '2026-03-30', night)).toEqual([120]);
    expect(minutes('2026-10-25', '2026-10-26', night)).toEqual([240]);
    expect(minutes('2026-03-22', '2026-03-23', night)).toEqual([180]);
  });

  it('vanish when they lie wholly in the gap', () => {
    expect(minutes('2026-03-29', '2026-03-30', { sunday: [{ from: '02:15', to: '02:45' }] })).toEqual([]);
  });

  it('fill a whole day to its real length', () => {
    const whole = { sunday: [{ from: '00:00', to: '24:00' }] };
    expect(minutes('2026-03-29', '2026-03-30', whole)).toEqual([23 * 60]);
    expect(minutes('2026-10-25', '2026-10-26', whole)).toEqual([25 * 60]);
    const [window] = dayWindows(day('2026-10-25', '2026-10-26'));
    expect(window!.to - window!.from).toBe(25 * 3_600_000);
  });
});

describe('a place', () => {
  it('is always open without closures, nights included', () => {
    expect(placeHours(day('2026-06-01', '2026-06-04'), [])).toBeUndefined();
  });

  it('is shut for the day of a closure', () => {
    expect(placeHours(day('2026-06-01', '2026-06-04'), [{ date: '2026-06-02', kind: 'off', parts: [] }])).toEqual([
      { from: utc('2026-05-31T22:00Z'), to: utc('2026-06-01T22:00Z') },
      { from: utc('2026-06-02T22:00Z'), to: utc('2026-06-03T22:00Z') },
    ]);
  });
});
