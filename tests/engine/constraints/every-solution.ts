import { expect } from 'vitest';
import { type Brancher, Search } from '../../../src/engine/learn/search.ts';
import { Solver } from '../../../src/engine/learn/solver.ts';

/** Domain of a variable, from and to inclusive. */
export type Domain = readonly [number, number];

/** Fixes the first variable that is not fixed, to its least or greatest value. */
export class FirstOpen implements Brancher {
  half = 0;
  bound = 0;
  private readonly solver: Solver;
  private readonly greatest: boolean;

  constructor(solver: Solver, greatest = false) {
    this.solver = solver;
    this.greatest = greatest;
  }

  choose(): boolean {
    const { bounds } = this.solver;
    for (let h = 0; h < bounds.halves; h += 2) {
      if (bounds.min(h) === bounds.max(h)) continue;
      this.half = this.greatest ? h : h + 1;
      this.bound = this.greatest ? bounds.max(h) : -bounds.min(h);
      return true;
    }
    return false;
  }
}

/** All assignments within the domains that the rule allows. */
export function solutions(domains: readonly Domain[], holds: (x: readonly number[]) => boolean): number[][] {
  const found: number[][] = [];
  const x: number[] = [];
  const visit = (k: number): void => {
    if (k === domains.length) {
      if (holds(x)) found.push([...x]);
      return;
    }
    for (let v = domains[k]![0]; v <= domains[k]![1]; v++) {
      x[k] = v;
      visit(k + 1);
    }
  };
  visit(0);
  return found;
}

export interface Posted {
  /** Propagates what a constraint needs before the first search (lags do). */
  readonly start?: () => boolean;
}

/**
 * Expects of a constraint that its propagation removes no solution, that a search under it finds a solution exactly when
 * there is one, and finds every one of them when those found are forbidden one after another.
 */
export function expectAgreement(
  domains: readonly Domain[],
  holds: (x: readonly number[]) => boolean,
  post: (solver: Solver, halves: readonly number[]) => Posted | undefined,
): void {
  const all = solutions(domains, holds);
  const build = () => {
    const solver = new Solver();
    const halves = domains.map(([from, to]) => solver.bounds.newVariable(from, to));
    const posted = post(solver, halves);
    solver.seal();
    const alive = (posted?.start?.() ?? true) && !solver.failed;
    return { solver, halves, alive };
  };
  const root = build();
  const consistent = root.alive && root.solver.propagate();
  if (all.length > 0) {
    expect(consistent).toBe(true);
    for (const [k, half] of root.halves.entries()) {
      const values = all.map((x) => x[k]!);
      expect(root.solver.bounds.min(half)).toBeLessThanOrEqual(Math.min(...values));
      expect(root.solver.bounds.max(half)).toBeGreaterThanOrEqual(Math.max(...values));
    }
  }
  const { solver, halves, alive } = build();
  if (!alive) {
    expect(all).toHaveLength(0);
    return;
  }
  const found = new Set<string>();
  const search = new Search(solver, new FirstOpen(solver, all.length % 2 === 1));
  const limits = { conflicts: 1e6, work: 1e9, stop: () => false };
  while (search.run(limits) === 'solution') {
    const x = halves.map((half) => solver.bounds.min(half));
    expect(holds(x), `${x} obeys the rule`).toBe(true);
    expect(found.has(x.join())).toBe(false);
    found.add(x.join());
    solver.backtrackTo(0);
    solver.addClause(halves.flatMap((half, k) => [half, x[k]! + 1, half ^ 1, 1 - x[k]!]));
  }
  expect([...found].sort()).toEqual(all.map((x) => x.join()).sort());
}
