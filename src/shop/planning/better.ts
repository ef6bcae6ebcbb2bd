import type { Plan } from '../../trade/model/plan.ts';

/** Tiers that are measured against the plan before, and so say nothing between two plans. */
const RELATIVE: ReadonlySet<string> = new Set(['change']);

/** Whether one plan's objective beats another's: less in the first tier in which they differ. */
export function isBetter(one: Plan['objective'], other: Plan['objective']): boolean {
  const value = (objective: Plan['objective'], tier: string) => objective.find((each) => each.tier === tier)?.value;
  for (const { tier, value: mine } of one) {
    if (RELATIVE.has(tier)) continue;
    const theirs = value(other, tier);
    if (theirs === undefined || mine === theirs) continue;
    return mine < theirs;
  }
  return false;
}
