import { expect, it } from 'vitest';
import { conditionOf } from '../../../src/promise/outlook/condition-of.ts';

const facts = { soil: 3, brakeDust: 2, tar: true, paintHardness: 'hard' } as const;

it('pools records of work by what the norm corrects for, and by nothing that it does not', () => {
  expect(conditionOf('contactWash', facts)).toBe('soil 3');
  expect(conditionOf('wheels', facts)).toBe('brake dust 2');
  expect(conditionOf('ironTarRemover', facts)).toBe('tar');
  expect(conditionOf('compound', facts)).toBe('hard paint');
  expect(conditionOf('handover', facts)).toBeNull();
});

it('names no condition where a car is as cars are', () => {
  const ordinary = { soil: 0, brakeDust: 0, tar: false, paintHardness: 'medium' } as const;
  for (const kind of ['contactWash', 'wheels', 'ironTarRemover', 'compound'] as const) {
    expect(conditionOf(kind, ordinary)).toBeNull();
  }
});
