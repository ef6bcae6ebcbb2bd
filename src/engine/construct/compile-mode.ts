import { NEVER } from '../calendar/never.ts';
import type { Mode } from '../problem/problem.ts';
import type { ModeModel } from './job-model.ts';
import type { ShopModel } from './shop-model.ts';

/** A mode with its calendar, budget, crew and places looked up. */
export function compileMode(shop: ShopModel, mode: Mode): ModeModel {
  const calendar = shop.calendar(mode.progress);
  const used: number[] = [];
  const amountsUsed: number[] = [];
  for (const { resource, amount } of mode.uses) {
    if (amount <= 0) continue;
    used.push(resource);
    amountsUsed.push(amount);
  }
  const resources = Int32Array.from(used);
  const budget = mode.budget === undefined ? null : shop.budgets[mode.budget]!;
  const allowed = mode.allowed ? shop.intervalSet(mode.allowed) : null;
  return {
    work: mode.work,
    calendar,
    budget,
    resources,
    amounts: Int32Array.from(amountsUsed),
    places: mode.places ? shop.placeSet(mode.places) : null,
    allowed,
    crew: shop.crew(resources),
    pattern: shop.pattern(mode.work, calendar, budget, allowed),
    leastMinutes: calendar.fastest > 0 ? Math.ceil(mode.work / calendar.fastest) : mode.work > 0 ? NEVER : 0,
  };
}
