import { describe, expect, it } from 'vitest';
import { cautions } from '../../../src/trade/hazards/cautions.ts';
import { instructions } from '../../../src/trade/hazards/instructions.ts';
import { WorkKind } from '../../../src/trade/model/recipe.ts';
import { sheet } from '../data-sheets.ts';

const told = (kind: WorkKind) => JSON.stringify(cautions(kind)).toLowerCase();

describe('cautions', () => {
  it('all defer to the safety data sheet, local codes and licensed practice', () => {
    for (const kind of WorkKind.options) {
      for (const caution of cautions(kind)) {
        expect(caution.defersTo).toMatch(/safety data sheet.*local codes.*licensed practice/i);
        expect(caution.precautions.length).toBeGreaterThan(0);
      }
    }
  });

  // Common practice; acid on sulphur-bearing iron removers frees hydrogen sulphide.
  it.each<[WorkKind, string]>([
    ['mineralRemover', 'hydrogen sulphide'],
    ['ironTarRemover', 'hydrogen sulphide'],
    ['wheels', 'hydrogen sulphide'],
    ['mineralRemover', 'calcium gluconate'],
    ['mineralRemover', 'bare aluminium and glass'],
    ['panelWipe', '12 °c'],
    ['panelWipe', 'no lamps, heaters, sparks'],
    ['coatLayer', 'nitrile gloves'],
    ['compound', 'grab hair'],
    ['compound', 'residual-current'],
    ['lampCure', 'burn skin'],
    ['contactWash', 'non-slip'],
    ['wheelsOff', 'fall'],
    ['move', 'crush'],
  ])('of %s name %s', (kind, words) => {
    expect(told(kind)).toContain(words);
  });

  it('are missing only where the work is to look or to wait', () => {
    const silent = WorkKind.options.filter((kind) => cautions(kind).length === 0);
    expect(silent).toEqual(['customerAnswer', 'filmCheck', 'unmask']);
  });
});

describe('instructions', () => {
  it('exist for every kind of work, as short sentences', () => {
    for (const kind of WorkKind.options) {
      expect(instructions(kind).length).toBeGreaterThan(0);
      for (const { text } of instructions(kind)) {
        expect(text).toMatch(/\.$/);
        expect(text.length).toBeLessThan(120);
      }
    }
  });

  it('carry clocks in seconds: a panel flashes for 30 s to 3 min (common practice), or as the data sheet says', () => {
    const clock = (from?: typeof sheet) =>
      instructions('coatLayer', from).flatMap((one) => (one.clock ? [one.clock] : []));
    expect(clock()).toEqual([{ label: 'flash', fromSeconds: 30, toSeconds: 180 }]);
    expect(clock({ ...sheet, flashSecondsFrom: 45, flashSecondsTo: 90 })).toEqual([
      { label: 'flash', fromSeconds: 45, toSeconds: 90 },
    ]);
  });

  it('have clocks that run forward', () => {
    for (const kind of WorkKind.options) {
      for (const { clock } of instructions(kind)) if (clock) expect(clock.fromSeconds).toBeLessThan(clock.toSeconds);
    }
  });
});
