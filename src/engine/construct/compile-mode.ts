import { NEVER } from '../calendar/never.ts';
import type { Mode } from '../problem/problem.ts';
import type { ModeModel } from './job-model.ts';
import type { ShopModel } from './shop-model.ts';

/** A mode with its calendar, budget, crew and places looked up. */
export function compileMode(shop: ShopModel, mode: Mode): ModeModel {
  const calendar = shop.calendar(mode.progress);
  const uses = mode.uses.filter((use) => use.amount > 0);
  const resources = new Int32Array(uses.length);
  const amounts = new Int32Array(uses.length);
  for (let u = 0; u < uses.length; u++) {
    resources[u] = uses[u]!.resource;
    amounts[u] = uses[u]!.amount;
  }
  const budget = mode.budget === undefined ? null : shop.budgets[mode.budget]!;
  const allowed = mode.allowed ? shop.intervalSet(mode.allowed) : null;
  return {
    work: mode.work,
    calendar,
    budget,
    resources,
    amounts,
    places: mode.places ? shop.placeSet(mode.places) : null,
    allowed,
    crew: shop.crew(resources),
    pattern: shop.pattern(mode.work, calendar, budget, allowed),
    leastMinutes: calendar.fastest > 0 ? Math.ceil(mode.work / calendar.fastest) : mode.work > 0 ? NEVER : 0,
  };
}
