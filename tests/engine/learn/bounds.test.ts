import { describe, expect, it } from 'vitest';
import { Bounds } from '../../../src/engine/learn/bounds.ts';

describe('bounds', () => {
  it('a half and its twin are the two bounds of one variable', () => {
    const bounds = new Bounds();
    const x = bounds.newVariable(2, 9);
    bounds.raise(x ^ 1, -7, -1, 0);
    expect([bounds.min(x), bounds.max(x)]).toEqual([2, 7]);
    expect([bounds.min(x ^ 1), bounds.max(x ^ 1)]).toEqual([-7, -2]);
  });

  it('remembers what a bound was before any entry, and which entry made a literal true', () => {
    const bounds = new Bounds();
    const x = bounds.newVariable(0, 20);
    bounds.openLevel();
    bounds.raise(x, 4, -1, 0);
    bounds.openLevel();
    bounds.raise(x, 9, -1, 0);
    expect([bounds.at(x, 0), bounds.at(x, 1), bounds.at(x, 2)]).toEqual([0, 4, 9]);
    expect([bounds.entryOf(x, 0), bounds.entryOf(x, 3), bounds.entryOf(x, 4), bounds.entryOf(x, 5)]).toEqual([
      -1, 0, 0, 1,
    ]);
    bounds.backtrackTo(1);
    expect(bounds.min(x)).toBe(4);
    bounds.backtrackTo(0);
    expect(bounds.min(x)).toBe(0);
  });

  it('says which variable has no value left', () => {
    const bounds = new Bounds();
    const x = bounds.newVariable(0, 3);
    expect(bounds.raise(x, 3, -1, 0)).toBe(true);
    expect(bounds.raise(x, 4, -1, 0)).toBe(false);
    expect(bounds.emptied).toBe(x);
  });

  it('grows past its first size', () => {
    const bounds = new Bounds();
    const halves = Array.from({ length: 300 }, () => bounds.newVariable(0, 100));
    for (let b = 1; b <= 20; b++) for (const h of halves) expect(bounds.raise(h, b, -1, 0)).toBe(true);
    expect(bounds.size).toBe(6000);
    expect(halves.every((h) => bounds.min(h) === 20)).toBe(true);
  });
});
