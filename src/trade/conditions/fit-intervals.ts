import type { Interval } from '../../engine/problem/problem.ts';
import type { ConditionsStep } from '../cure/cure-progress.ts';
import type { DataSheet } from '../model/coating.ts';
import { judgeConditions } from './judge-conditions.ts';

/** Stretches of [first step, horizon) in which a coating may lie: expected conditions are inside the sheet's limits. */
export function fitIntervals(sheet: DataSheet, steps: readonly ConditionsStep[], horizon: number): Interval[] {
  const fit: Interval[] = [];
  steps.forEach((step, index) => {
    const from = step.at;
    const to = Math.min(horizon, steps[index + 1]?.at ?? horizon);
    if (from >= to || !judgeConditions(sheet, step.conditions).fit) return;
    const last = fit.at(-1);
    if (last?.to === from) fit[fit.length - 1] = { from: last.from, to };
    else fit.push({ from, to });
  });
  return fit;
}
