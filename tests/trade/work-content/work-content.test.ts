import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { WorkKind } from '../../../src/trade/model/recipe.ts';
import { PaintHardness, PanelName, VehicleClass } from '../../../src/trade/model/vehicle.ts';
import { commonNorms } from '../../../src/trade/work-content/common-norms.ts';
import { paintAreaM2 } from '../../../src/trade/work-content/quantities.ts';
import { workContent } from '../../../src/trade/work-content/work-content.ts';
import type { WorkFacts } from '../../../src/trade/work-content/work-facts.ts';
import { WorkNorms } from '../../../src/trade/work-content/work-norms.ts';

const allPanels = (grade: number) =>
  Object.fromEntries(PanelName.options.map((panel) => [panel, grade])) as WorkFacts['defects'];

const compact: WorkFacts = {
  vehicleClass: 'compact',
  defects: allPanels(2),
  paintHardness: 'medium',
  correctionPasses: null,
  soil: 1,
  brakeDust: 1,
  tar: false,
  addOns: [],
  lampMinutesPerArea: null,
  answerMinutes: 120,
  crewSize: 1,
  pacePercent: 100,
};
const minutes = (kind: WorkKind, change: Partial<WorkFacts> = {}) =>
  workContent(kind, { ...compact, ...change }).minutes;

const grade = fc.integer({ min: 0, max: 3 });
const anyFacts: fc.Arbitrary<WorkFacts> = fc.record({
  vehicleClass: fc.constantFrom(...VehicleClass.options),
  defects: fc.integer({ min: 0, max: 4 }).map(allPanels),
  paintHardness: fc.constantFrom(...PaintHardness.options),
  correctionPasses: fc.constantFrom(null, 0, 1, 2, 3, 4),
  soil: grade,
  brakeDust: grade,
  tar: fc.boolean(),
  addOns: fc.constant([]),
  lampMinutesPerArea: fc.constantFrom(null, 10, 15),
  answerMinutes: fc.integer({ min: 0, max: 600 }),
  crewSize: fc.integer({ min: 0, max: 4 }),
  pacePercent: fc.integer({ min: 30, max: 200 }),
});
const anyKind = fc.constantFrom(...WorkKind.options);

describe('the norms', () => {
  it('are data that the schema accepts', () => {
    expect(WorkNorms.parse(commonNorms)).toEqual(commonNorms);
  });

  it('know a car of every class to have 7 to 22 m2 of paint', () => {
    for (const vehicleClass of VehicleClass.options) {
      const areaM2 = paintAreaM2(vehicleClass, commonNorms);
      expect(areaM2).toBeGreaterThan(7);
      expect(areaM2).toBeLessThan(22);
    }
  });
});

describe('work content, against ranges of common practice', () => {
  it.each<[string, WorkKind, Partial<WorkFacts>, number, number]>([
    ['an intake takes 20 to 30 minutes', 'intake', {}, 20, 30],
    ['four neglected wheels take 30 to 45 minutes each', 'wheels', { brakeDust: 3 }, 120, 185],
    ['a strip wash takes 45 to 120 minutes', 'stripWash', {}, 45, 120],
    ['a strip wash of a van takes 45 to 120 minutes', 'stripWash', { vehicleClass: 'van' }, 45, 120],
    ['a panel wipe takes 20 to 40 minutes', 'panelWipe', {}, 20, 40],
    ['lamps take 2 to 3 hours', 'lampCure', { vehicleClass: 'suv' }, 120, 180],
    ['rework takes 30 to 90 minutes', 'rework', {}, 30, 90],
    ['a handover takes 30 to 45 minutes', 'handover', {}, 30, 45],
    ['a move takes 5 to 15 minutes', 'move', {}, 5, 15],
    ['a walk-in or maintenance wash takes 1 to 2 hours', 'maintenanceWash', { soil: 2 }, 60, 120],
  ])('%s', (_, kind, change, from, to) => {
    expect(minutes(kind, change)).toBeGreaterThanOrEqual(from);
    expect(minutes(kind, change)).toBeLessThanOrEqual(to);
  });

  it('sets a lamp up for 8 to 12 areas at the minutes of the data sheet', () => {
    for (const areas of Object.values(commonNorms.lampAreas)) {
      expect(areas).toBeGreaterThanOrEqual(8);
      expect(areas).toBeLessThanOrEqual(12);
    }
    expect(minutes('lampCure', { lampMinutesPerArea: 15 }) - minutes('lampCure', { lampMinutesPerArea: 10 })).toBe(
      5 * 9,
    );
  });
});

describe('work content', () => {
  it("of one compounding pass over a compact car is set-up and each panel's area at 17 min/m2", () => {
    // By hand: bonnet 1.5 x 17 = 25.5 -> 26, roof 29, boot 14, bumpers 2 x 15, wings 2 x 9 (8.5 rounds up), front doors 2 x 13,
    // rear doors 2 x 11, rear wings 2 x 12, sills 2 x 3; set-up 15.
    const byHand = 15 + 26 + 29 + 14 + 2 * 15 + 2 * 9 + 2 * 13 + 2 * 11 + 2 * 12 + 2 * 3;
    expect(minutes('compound')).toBe(byHand);
  });

  it('shows the panels it was computed from', () => {
    const { lines } = workContent('compound', compact);
    expect(lines[0]).toEqual({ label: 'set-up', minutes: 15 });
    expect(lines[1]).toEqual({ label: 'bonnet 1.5 m², 1 pass × 17 min (medium paint, 100 %)', minutes: 26 });
  });

  it('compounds only the panels whose defects ask for it', () => {
    const { lines } = workContent('compound', { ...compact, defects: { ...allPanels(1), roof: 3 } });
    expect(lines.map((line) => line.label.split(' ')[0])).toEqual(['set-up', 'roof']);
  });

  it('is nothing where there is nothing to polish', () => {
    expect(workContent('compound', { ...compact, defects: allPanels(1) })).toEqual({ minutes: 0, lines: [] });
    expect(minutes('finishPolish', { defects: allPanels(0) })).toBe(0);
    expect(minutes('compound', { correctionPasses: 1 })).toBe(0);
    expect(minutes('finishPolish', { correctionPasses: 0 })).toBe(0);
  });

  it('grows with hard paint and deep swirls (common practice)', () => {
    const deep = { defects: allPanels(4) };
    expect(minutes('compound', { ...deep, paintHardness: 'hard' })).toBeGreaterThan(minutes('compound', deep));
    expect(minutes('compound', deep)).toBeGreaterThan(minutes('compound'));
  });

  it("is the customer's time to answer while he is asked", () => {
    expect(minutes('customerAnswer', { answerMinutes: 90, crewSize: 0, pacePercent: 50 })).toBe(90);
  });

  it('at a pace of 80 % takes a quarter longer', () => {
    const { minutes: paced, lines } = workContent('intake', { ...compact, pacePercent: 80 });
    expect(paced).toBe(Math.ceil(25 * 1.25));
    expect(lines.at(-1)).toEqual({ label: 'pace 80 %', minutes: 7 });
  });

  it('adds up line by line, in whole minutes, whatever the car', () => {
    fc.assert(
      fc.property(anyKind, anyFacts, (kind, facts) => {
        const content = workContent(kind, facts);
        expect(Number.isInteger(content.minutes)).toBe(true);
        expect(content.minutes).toBeGreaterThanOrEqual(0);
        expect(content.lines.reduce((sum, line) => sum + line.minutes, 0)).toBe(content.minutes);
        for (const line of content.lines) expect(Number.isInteger(line.minutes)).toBe(true);
      }),
      { seed: 11, numRuns: 400 },
    );
  });

  it('is never less for more soil, more brake dust or tar', () => {
    fc.assert(
      fc.property(anyKind, anyFacts, grade, grade, (kind, facts, a, b) => {
        const [less, more] = [Math.min(a, b), Math.max(a, b)];
        const clean = workContent(kind, { ...facts, soil: less, brakeDust: less, tar: false });
        const dirty = workContent(kind, { ...facts, soil: more, brakeDust: more, tar: true });
        expect(dirty.minutes).toBeGreaterThanOrEqual(clean.minutes);
      }),
      { seed: 12, numRuns: 300 },
    );
  });

  it('is never more for a larger or quicker crew', () => {
    const pace = fc.integer({ min: 30, max: 200 });
    fc.assert(
      fc.property(anyKind, anyFacts, fc.integer({ min: 1, max: 3 }), pace, pace, (kind, facts, crewSize, a, b) => {
        const slow = workContent(kind, { ...facts, crewSize, pacePercent: Math.min(a, b) }).minutes;
        expect(
          workContent(kind, { ...facts, crewSize: crewSize + 1, pacePercent: Math.min(a, b) }).minutes,
        ).toBeLessThanOrEqual(slow);
        expect(workContent(kind, { ...facts, crewSize, pacePercent: Math.max(a, b) }).minutes).toBeLessThanOrEqual(
          slow,
        );
      }),
      { seed: 13, numRuns: 300 },
    );
  });

  it.each([
    ['crewSize', { crewSize: 5 }],
    ['pacePercent', { pacePercent: 0 }],
    ['soil', { soil: 4 }],
    ['brakeDust', { brakeDust: Number.NaN }],
    ['defects.roof', { defects: { ...allPanels(0), roof: 7 } }],
  ])('names the fact that is out of range: %s', (field, change) => {
    expect(() => workContent('wheels', { ...compact, ...change })).toThrow(
      new RegExp(`^${field.replace('.', '\\.')} is`),
    );
  });
});
