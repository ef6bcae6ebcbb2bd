import type { Interval } from '../../engine/problem/problem.ts';
import { intersect, union } from '../../trade/calendar/intervals.ts';
import { addDays, localDate } from '../../trade/calendar/local-instant.ts';
import { openHours } from '../../trade/calendar/open-hours.ts';
import type { PlaceId, RecipeId, ShopId } from '../../trade/model/ids.ts';
import type { Shop } from '../../trade/model/shop.ts';
import type { Instant, LocalDate } from '../../trade/model/time.ts';
import type { ShopDeps } from '../deps.ts';
import type { CarOnFloor } from '../floor/gates/situation.ts';
import { loadCars } from '../floor/load-cars.ts';
import { foundShop } from '../records/found.ts';
import { total } from './bay-minutes.ts';
import { stretchOf, type Weeks } from './stretch.ts';

/** What cars brought and how long they held bays. Money in minor units. */
export interface RevenueLine {
  readonly cars: number;
  /** The price agreed last: after the inspection where there was one, else at the booking. */
  readonly revenueMinor: number;
  /** Minutes of the shop's opening hours in which these cars stood in bays, over their whole visits. */
  readonly bayMinutes: number;
  /** Revenue divided by bay minutes, for an hour; null when no bay was held. */
  readonly perBayHourMinor: number | null;
}

export interface RecipeRevenue extends RevenueLine {
  readonly recipeId: RecipeId;
  readonly name: string;
}

/** Cars picked up in some weeks; the recipes add up to `all`. */
export interface Revenue {
  readonly firstMonday: LocalDate;
  readonly from: Instant;
  readonly to: Instant;
  readonly currency: string;
  /** The dearest bay hour first. */
  readonly recipes: readonly RecipeRevenue[];
  readonly all: RevenueLine;
}

/** Revenue for each hour a bay was held, by recipe. @throws NotFound, Invalid (monday) */
export async function revenueByRecipe(
  deps: Pick<ShopDeps, 'store' | 'clock'>,
  input: { readonly shopId: ShopId } & Weeks,
): Promise<Revenue> {
  const { shopId } = input;
  const shop = await foundShop(deps.store, shopId);
  const { firstMonday, from, to } = stretchOf(input, shop.timeZone);
  const places = (await deps.store.places.list(shopId)).map((each) => each.value);
  const bays = new Set(places.filter((place) => place.kind === 'bay').map((place) => place.id));
  const now = deps.clock();
  const cars = await loadCars(deps.store, shopId, { visiting: { from, to, now } }, now);
  return { firstMonday, from, to, currency: shop.currency, ...revenueOf(cars, { from, to }, bays, shop) };
}

/** Sums up the cars that were picked up in a stretch. */
export function revenueOf(
  cars: readonly CarOnFloor[],
  { from, to }: Interval,
  bays: ReadonlySet<PlaceId>,
  shop: Pick<Shop, 'timeZone' | 'hours' | 'exceptions'>,
): Pick<Revenue, 'recipes' | 'all'> {
  const lines = new Map<RecipeId, { name: string; cars: number; revenueMinor: number; bayMinutes: number }>();
  for (const { job, recipe, happened } of cars) {
    const { pickedUpAt } = happened;
    if (pickedUpAt === null || pickedUpAt < from || pickedUpAt >= to) continue;
    const line = lines.get(recipe.id) ?? { name: recipe.name, cars: 0, revenueMinor: 0, bayMinutes: 0 };
    line.cars++;
    line.revenueMinor += job.scope?.priceMinor ?? job.priceMinor;
    const inBays = happened.stays.filter((stay) => bays.has(stay.placeId));
    line.bayMinutes += openMinutes(
      inBays.map((stay) => ({ from: stay.from, to: stay.to ?? pickedUpAt })),
      shop,
    );
    lines.set(recipe.id, line);
  }
  const recipes = [...lines].map(([recipeId, line]) => ({ recipeId, ...line, perBayHourMinor: perHour(line) }));
  const sum = (of: 'cars' | 'revenueMinor' | 'bayMinutes') => recipes.reduce((whole, each) => whole + each[of], 0);
  const all = { cars: sum('cars'), revenueMinor: sum('revenueMinor'), bayMinutes: sum('bayMinutes') };
  return {
    recipes: recipes.sort((a, b) => (b.perBayHourMinor ?? -1) - (a.perBayHourMinor ?? -1)),
    all: { ...all, perBayHourMinor: perHour(all) },
  };
}

function perHour({ revenueMinor, bayMinutes }: { revenueMinor: number; bayMinutes: number }): number | null {
  return bayMinutes === 0 ? null : Math.round((60 * revenueMinor) / bayMinutes);
}

function openMinutes(stays: readonly Interval[], shop: Pick<Shop, 'timeZone' | 'hours' | 'exceptions'>): number {
  if (stays.length === 0) return 0;
  const zone = shop.timeZone;
  const first = localDate(Math.min(...stays.map((stay) => stay.from)) as Instant, zone);
  const last = localDate(Math.max(...stays.map((stay) => stay.to)) as Instant, zone);
  const { open } = openHours({ zone, from: first, to: addDays(last, 1) }, shop.hours, shop.exceptions);
  return Math.round(total(intersect(open, union(stays))) / 60_000);
}
