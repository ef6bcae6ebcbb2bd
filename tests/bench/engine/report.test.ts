import { describe, expect, it } from 'vitest';
import { falsehood, type Row } from './report.ts';

const row = (known: Row['instance']['known'], result: Partial<Row['result']>): Row => ({
  instance: { set: 's', name: 'i', path: '', tuning: true, ...(known && { known }) },
  result: {
    makespan: 10,
    lower: 10,
    status: 'optimal',
    seconds: 1,
    checked: true,
    work: 1,
    violations: [],
    ...result,
  },
});

describe('what a benchmark calls false', () => {
  it('nothing, when claims agree with what is known', () => {
    expect(falsehood(row({ lower: 10, upper: 10 }, {}))).toBeUndefined();
    expect(falsehood(row('unsat', { makespan: null, status: 'infeasible' }))).toBeUndefined();
    expect(falsehood(row(undefined, {}))).toBeUndefined();
  });

  it('an optimum above a known makespan, or below a proved bound', () => {
    expect(falsehood(row({ lower: 8, upper: 9 }, {}))).toContain('claimed optimal');
    expect(falsehood(row({ lower: 11, upper: 12 }, { status: 'feasible', lower: 0 }))).toContain(
      'below the proved bound',
    );
  });

  it('no schedule where one is known, a schedule where none can be, a bound too high, a broken rule', () => {
    expect(falsehood(row({ lower: 9, upper: 9 }, { makespan: null, status: 'infeasible' }))).toContain('infeasible');
    expect(falsehood(row('unsat', {}))).toContain('none is known');
    expect(falsehood(row({ lower: 9, upper: 12 }, { status: 'feasible', lower: 13 }))).toContain('bound');
    expect(falsehood(row(undefined, { checked: false, violations: ['overlap'] }))).toContain('overlap');
  });
});
