import { describe, expect, test } from 'vitest';
import { airRuleObjections } from '../../../src/shop/setup/air-rule-objections.ts';
import { hoursObjections } from '../../../src/shop/setup/hours-objections.ts';
import { placeObjections } from '../../../src/shop/setup/place-objections.ts';
import type { AirRule } from '../../../src/trade/model/shop.ts';
import type { DayException } from '../../../src/trade/model/time.ts';
import { bay, yard, zone } from '../../api/a-shop.ts';

describe('hours', () => {
  const overtime: DayException = { date: '2026-03-02', kind: 'overtime', parts: [{ from: '17:00', to: '19:00' }] };

  test('a lunch break is the gap between two parts and nothing to object to', () => {
    const week = {
      monday: [
        { from: '08:00', to: '12:00' },
        { from: '12:00', to: '17:00' },
      ],
    };
    expect(hoursObjections(week, 'hours', [overtime], 'exceptions')).toEqual([]);
  });

  test('parts of a day that overlap are named', () => {
    const week = {
      friday: [
        { from: '08:00', to: '12:01' },
        { from: '12:00', to: '17:00' },
      ],
    };
    expect(hoursObjections(week, 'shifts', [], 'exceptions')).toMatchObject([
      { rule: 'partsApart', field: 'shifts.friday.1' },
    ]);
  });

  test("a day's hours are replaced once, and may have time off and overtime beside", () => {
    const off: DayException = { date: '2026-03-02', kind: 'off', parts: [] };
    const instead: DayException = { date: '2026-03-02', kind: 'instead', parts: [] };
    expect(hoursObjections({}, 'hours', [off, off, instead, overtime], 'exceptions')).toEqual([]);
    expect(hoursObjections({}, 'hours', [instead, instead], 'exceptions')).toMatchObject([
      { rule: 'oneInsteadADay', field: 'exceptions.1.date' },
    ]);
  });

  test('overtime without hours authorises nothing', () => {
    expect(hoursObjections({}, 'hours', [{ ...overtime, parts: [] }], 'exceptions')).toMatchObject([
      { rule: 'overtimeHasHours', field: 'exceptions.0.parts' },
    ]);
  });
});

describe('places', () => {
  test('a bay and a yard place as they are usual raise nothing', () => {
    expect(placeObjections(bay)).toEqual([]);
    expect(placeObjections(yard)).toEqual([]);
  });

  test('no work is done on a parking place', () => {
    expect(placeObjections({ ...yard, capabilities: ['hold', 'wet'] })).toMatchObject([
      { rule: 'parkingHoldsOnly', field: 'capabilities' },
    ]);
  });

  test('coating needs an air zone to be judged by', () => {
    expect(placeObjections({ ...bay, capabilities: ['coating'], airZoneId: null })).toMatchObject([
      { rule: 'coatingHasAir', field: 'airZoneId' },
    ]);
  });

  test('a place does not block itself', () => {
    expect(placeObjections({ ...bay, blockedBy: [bay.id] })).toMatchObject([{ field: 'blockedBy' }]);
  });
});

describe('air rules', () => {
  const rule = zone.rules[0] as AirRule;

  test('a pair has one rule, whichever label comes first', () => {
    const turned: AirRule = { ...rule, first: rule.second, second: rule.first };
    expect(airRuleObjections(zone)).toEqual([]);
    expect(airRuleObjections({ ...zone, rules: [rule, turned] })).toMatchObject([
      { rule: 'pairOnce', field: 'rules.1' },
    ]);
  });

  test('a label is not set against itself', () => {
    expect(airRuleObjections({ ...zone, rules: [{ ...rule, second: rule.first }] })).toMatchObject([
      { rule: 'twoLabels', field: 'rules.0.second' },
    ]);
  });
});
