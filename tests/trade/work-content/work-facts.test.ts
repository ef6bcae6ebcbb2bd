import { describe, expect, it } from 'vitest';
import { Inspection } from '../../../src/trade/model/condition.ts';
import { commonNorms } from '../../../src/trade/work-content/common-norms.ts';
import { passesOn } from '../../../src/trade/work-content/quantities.ts';
import { workFacts } from '../../../src/trade/work-content/work-facts.ts';
import { demo } from '../../seed/demo-shop.ts';

const booked = { ...demo.book[0]!, inspection: null, scope: null };
const inspection = Inspection.parse({
  at: 0,
  panels: [{ panel: 'roof', defects: 4 }],
  film: [],
  paintHardness: 'hard',
});

describe('the facts of a job', () => {
  it('before the inspection are what the desk was told, with the hardness its class usually has', () => {
    const facts = workFacts(booked, demo.shop);
    expect(facts.defects.roof).toBe(booked.condition.defects);
    expect(facts.paintHardness).toBe('medium');
    expect(facts.answerMinutes).toBe(demo.shop.inspectionAnswerMinutes);
  });

  it('after it are what was found, panel by panel', () => {
    const facts = workFacts({ ...booked, inspection }, demo.shop);
    expect(facts.defects.roof).toBe(4);
    expect(facts.defects.bonnet).toBe(booked.condition.defects);
    expect(facts.paintHardness).toBe('hard');
  });

  it('cap the passes of a panel at the scope that was approved, the finishing one included', () => {
    const facts = workFacts({ ...booked, inspection }, demo.shop);
    expect(passesOn('roof', facts, commonNorms)).toEqual({ compound: 3, finish: 1 });
    expect(passesOn('roof', { ...facts, correctionPasses: 2 }, commonNorms)).toEqual({ compound: 1, finish: 1 });
    expect(passesOn('roof', { ...facts, correctionPasses: 0 }, commonNorms)).toEqual({ compound: 0, finish: 0 });
  });
});
